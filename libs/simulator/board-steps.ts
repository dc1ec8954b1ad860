import { Heat } from '../domain/events/heat.js';
import { InspectionRecorded, SiteDressed, UnitReceived } from '../domain/events/station-event.js';
import { ProfilePurpose } from './boards/demo-profiles.js';
import { MINUTE_MS, timeText } from './day-log.js';
import { dressingStep } from './dressing-step.js';
import { PostAct } from './simulated-act.js';
import { SimulatedBoard, Telling } from './simulated-board.js';
import { HeatWish } from './traces/hot-gas-recipe.js';

const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;
const ROOM_AIR = { ambientC: 23, relativeHumidityPct: 45 } as const;

/** Received the evening before; baked over night, unless it is forgotten, and brought to the bench. */
export function comesIn(board: SimulatedBoard, startMs: number, { bake = true, priorReworks = 0 } = {}): void {
  const sites = board.sites().map((refdes) => ({ refdes, priorReworks }));
  const received: UnitReceived = { workOrder: `WO-${board.serial}`, complaint: 'functional test failed', sites };
  board.tell('heatbook.unit.received.v1', 'SIM-RECV-1', startMs - 10 * HOUR_MS, received);
  if (!bake) return;
  const [fromMs, toMs] = [startMs - 9 * HOUR_MS, startMs - HOUR_MS / 2];
  board.tell('heatbook.unit.baked.v1', 'SIM-OVEN-1', toMs, {
    ...{ temperatureC: 105, relativeHumidityPct: 4, startedAt: timeText(fromMs), endedAt: timeText(toMs) },
  });
  const out = { storage: 'open' as const, ...ROOM_AIR };
  board.tell('heatbook.exposure.started.v1', 'SIM-OVEN-1', toMs + 10 * MINUTE_MS, out);
}

/** Takes the device off, to scrap. @param claim what the station says of the heat, where that is not what it was */
export function removes(
  board: SimulatedBoard,
  refdes: string,
  wish: HeatWish = {},
  claim = (heat: Heat): Heat => heat,
): PostAct {
  return board.step('heatbook.device.removed.v1', board.bench.hotGas, 14, {
    refdes,
    fate: 'scrap',
    profile: board.profile(refdes, 'OFF'),
    heat: claim(board.hotGas(refdes, 'OFF', wish)),
    operator: board.bench.operator.name,
  });
}

/** @param more such as the solder that a flush is done with */
export function dresses(
  board: SimulatedBoard,
  refdes: string,
  method: SiteDressed['method'],
  more: Partial<SiteDressed> = {},
  telling: Telling = {},
): PostAct {
  const solderAlloy = more.solderAlloy ?? board.design(refdes).jointAlloy;
  const done = dressingStep(board.random, {
    ...{ refdes, method, solderAlloy, operator: board.bench.operator.name },
    heat: (minutes, thermocouples) => board.heatOf(minutes, thermocouples),
    profile: (purpose: ProfilePurpose) => board.profile(refdes, purpose),
  });
  const station = dressingStation(board, method, solderAlloy);
  return board.step('heatbook.site.dressed.v1', station, 11, { ...done, ...more }, telling);
}

/** Leaded and lead-free solder never share a fountain. */
function dressingStation({ bench }: SimulatedBoard, method: SiteDressed['method'], solderAlloy: string): string {
  if (method === 'coupon') return bench.hotGas;
  if (method !== 'fountain') return bench.dress;
  return solderAlloy === 'Sn63Pb37' ? 'SIM-FOUNT-2' : 'SIM-FOUNT-1';
}

export function cleans(board: SimulatedBoard, refdes: string): void {
  board.step('heatbook.site.cleaned.v1', board.bench.dress, 5, { refdes, agent: 'solvent wipe' });
}

export function inspects(
  board: SimulatedBoard,
  refdes: string,
  technique: InspectionRecorded['technique'],
  more: Partial<InspectionRecorded> = {},
  telling: Telling = {},
): void {
  const station = technique === 'xray' ? 'SIM-XRAY-1' : 'SIM-INSP-1';
  const target = { kind: 'site', refdes } as const;
  const found = { target, technique, result: 'pass', operator: board.bench.inspector, ...more } as const;
  board.step('heatbook.inspection.recorded.v1', station, 5, found, telling);
}

/** Opens the pack of a new device and puts it on. */
export function places(board: SimulatedBoard, refdes: string, wish: HeatWish = {}, telling: Telling = {}): void {
  const { part } = board.design(refdes);
  const device = `N-${board.serial}`;
  const own = { subject: `devices/${device}` };
  const week = String(board.random.whole(10, 50));
  board.tell(
    'heatbook.device.received.v1',
    'SIM-RECV-1',
    board.nowMs - DAY_MS,
    {
      ...{ part, lot: `L${week}`, owner: 'house stock', priorExcursions: 0 },
      packSealedAt: timeText(board.nowMs - 20 * DAY_MS),
    },
    own,
  );
  const opened = { storage: 'open' as const, ...ROOM_AIR };
  board.tell('heatbook.exposure.started.v1', board.bench.hotGas, board.nowMs + MINUTE_MS, opened, own);
  const attach = part.endsWith('L')
    ? { attach: 'paste' as const, pasteAlloy: 'Sn63Pb37', pasteVolumeMm3: 9.2 }
    : { attach: 'flux' as const };
  const heat = board.hotGas(refdes, 'ON', wish);
  const placed = { refdes, device, part, ...attach, profile: board.profile(refdes, 'ON'), heat };
  const { operator, hotGas } = board.bench;
  board.step('heatbook.device.placed.v1', hotGas, 17, { ...placed, operator: operator.name }, telling);
}

/** Voids of three balls, all of them harmless. */
export function harmlessVoids(board: SimulatedBoard): NonNullable<InspectionRecorded['voids']> {
  return ['A1', 'A2', 'A3'].map((joint) => ({ joint, fraction: board.random.figure(0.03, 0.18, 2) }));
}

export function ships(board: SimulatedBoard): void {
  board.step('heatbook.unit.shipped.v1', 'SIM-SHIP-1', 20, {});
}
