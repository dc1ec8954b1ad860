import type {
  DevicePlaced,
  InspectionRecorded,
  SiteDressed,
  UnitReceived,
} from '../../../../libs/domain/events/station-event.js';
import { dateAndTime } from '../kit/time-words.js';
import { entryWords, methodWords } from '../words/words.js';
import type { Step } from './entry-parts.js';

/** What an entry tells, in a line, and piece by piece. */
export interface EntryWords {
  readonly title: string;
  readonly details: readonly string[];
}

/** Most items of a list that are named; what the station said has them all. */
const MOST = 12;

const STORAGES: Readonly<Record<string, string>> = {
  open: 'open on the floor',
  'dry-cabinet': 'in a dry cabinet',
  'dry-pack': 'in a dry pack',
};
const TECHNIQUES: Readonly<Record<string, string>> = { xray: 'X-ray', xrf: 'XRF', 'height-map': 'height map' };
const PURPOSES: Readonly<Record<string, string>> = {
  'touch-up': 'touch-up',
  'removal-attempt': 'tried to remove the device',
  aborted: 'broken off',
  other: 'for another purpose',
};

/** How something was inspected. */
export function techniqueWords(technique: string): string {
  return TECHNIQUES[technique] ?? technique;
}

/** What a station said of a step. */
export function stepInWords(step: Step): EntryWords {
  switch (step.type) {
    case 'heatbook.unit.received.v1':
      return { title: 'Received', details: receivedWords(step.data) };
    case 'heatbook.unit.baked.v1':
    case 'heatbook.device.baked.v1': {
      const { temperatureC, startedAt, endedAt, relativeHumidityPct, interruptedMinutes } = step.data;
      const details = [
        `${dateAndTime(startedAt)} to ${dateAndTime(endedAt)}`,
        ...given(relativeHumidityPct, '% relative humidity'),
        ...given(interruptedMinutes, 'min interrupted'),
      ];
      return { title: `${entryWords(step.type)} at ${temperatureC} °C`, details };
    }
    case 'heatbook.unit.reflowed.v1': {
      const { side } = step.data;
      return { title: side === undefined ? 'Whole board reflowed' : `Whole board reflowed, ${side} up`, details: [] };
    }
    case 'heatbook.device.received.v1': {
      const { part, lot, dateCode, owner, priorExcursions, packSealedAt } = step.data;
      const details = [
        ...[...named('lot', lot), ...named('date code', dateCode), ...named('owner', owner)],
        ...given(priorExcursions, 'excursions before, declared'),
        ...(packSealedAt === undefined ? [] : [`pack sealed ${dateAndTime(packSealedAt)}`]),
      ];
      return { title: `Device received, part ${part}`, details };
    }
    case 'heatbook.device.removed.v1': {
      const { refdes, device, fate } = step.data;
      const title = `Device removed from ${refdes}, ${fate === 'scrap' ? 'to scrap' : 'kept'}`;
      return { title, details: named('label read:', device) };
    }
    case 'heatbook.device.deballed.v1': {
      const { method, solderAlloy, contactSeconds, solderC } = step.data;
      const details = [
        ...named('solder', solderAlloy),
        ...given(contactSeconds, 's in contact'),
        ...given(solderC, '°C solder'),
      ];
      return { title: `Device deballed: ${lower(methodWords(method))}`, details };
    }
    case 'heatbook.device.reballed.v1':
      return {
        title: `Device reballed with ${step.data.ballAlloy}`,
        details: [`balls of ${step.data.ballDiameterMm} mm`],
      };
    case 'heatbook.device.placed.v1':
      return { title: `${step.data.device} placed on ${step.data.refdes}`, details: placedWords(step.data) };
    case 'heatbook.exposure.started.v1':
    case 'heatbook.exposure.stopped.v1': {
      const { storage, ambientC, relativeHumidityPct } = step.data;
      return {
        title: `${entryWords(step.type)}: ${STORAGES[storage] ?? storage}`,
        details: [...given(ambientC, '°C'), ...given(relativeHumidityPct, '% relative humidity')],
      };
    }
    case 'heatbook.site.dressed.v1':
      return dressedWords(step.data);
    case 'heatbook.site.heated.v1':
      return { title: `${step.data.refdes} heated: ${PURPOSES[step.data.purpose] ?? step.data.purpose}`, details: [] };
    case 'heatbook.site.cleaned.v1':
      return { title: `${step.data.refdes} cleaned`, details: [`with ${step.data.agent}`] };
    case 'heatbook.site.repaired.v1': {
      const { refdes, procedure, pads } = step.data;
      return { title: `${refdes} repaired`, details: [`by ${procedure}`, `pads ${listed(pads)}`] };
    }
    case 'heatbook.inspection.recorded.v1':
      return inspectedWords(step.data);
    case 'heatbook.bath.analysed.v1': {
      const { solderAlloy, leadPct, copperPct, sampledAt } = step.data;
      const details = [`sampled ${dateAndTime(sampledAt)}`, `${leadPct} wt% lead`, `${copperPct} wt% copper`];
      return { title: `Bath of ${solderAlloy} analysed`, details };
    }
    case 'heatbook.unit.shipped.v1':
    case 'heatbook.unit.scrapped.v1':
    case 'heatbook.device.scrapped.v1':
      return { title: entryWords(step.type), details: [] };
    default:
      return { title: (step as { type: string }).type, details: [] };
  }
}

function receivedWords({ workOrder, complaint, priorReflows, devices = [], sites = [] }: UnitReceived): string[] {
  const aboard = devices.map(({ refdes, device, priorExcursions }) => {
    const before = priorExcursions === undefined ? '' : ` with ${counting(priorExcursions, 'excursion')}`;
    return `${refdes} ${device ?? 'its device'}${before}`;
  });
  const reworked = sites.flatMap(({ refdes, priorReworks }) =>
    priorReworks === undefined ? [] : [`${refdes} ${counting(priorReworks, 'rework')}`],
  );
  return [
    ...named('work order', workOrder),
    ...named('complaint:', complaint),
    ...(priorReflows === undefined ? [] : [`declared: ${counting(priorReflows, 'whole-board reflow')} before`]),
    ...(aboard.length === 0 ? [] : [`declared aboard: ${listed(aboard)}`]),
    ...(reworked.length === 0 ? [] : [`declared before: ${listed(reworked)}`]),
  ];
}

function placedWords({ part, attach, pasteAlloy, pasteVolumeMm3 }: DevicePlaced): string[] {
  return [
    ...named('part', part),
    `with ${[attach, pasteAlloy].filter((word) => word !== undefined).join(' ')}`,
    ...given(pasteVolumeMm3, 'mm³ paste a joint'),
  ];
}

function dressedWords(data: SiteDressed): EntryWords {
  const { refdes, method, solderAlloy, passes, contactSeconds, solderC, flowing, flux } = data;
  return {
    title: `${refdes} dressed: ${lower(methodWords(method))}, ${counting(passes, 'pass', 'passes')}`,
    details: [
      `solder ${solderAlloy}`,
      `${contactSeconds} s in contact`,
      ...given(solderC, '°C solder'),
      ...(flowing === undefined ? [] : [flowing ? 'flowing' : 'still']),
      ...named('flux', flux),
      ...given(data.remnantHeightUm, 'µm left, measured'),
      ...given(data.nozzleSpeedMmPerS, 'mm/s nozzle'),
    ],
  };
}

function inspectedWords({
  target,
  technique,
  result,
  defects = [],
  voids = [],
  leadPct,
}: InspectionRecorded): EntryWords {
  const what = target.refdes ?? target.device ?? (target.kind === 'unit' ? 'Board' : 'Device');
  const worst = voids.reduce((most, { fraction }) => Math.max(most, fraction), 0);
  return {
    title: `${what} inspected (${techniqueWords(technique)}): ${result === 'pass' ? 'passed' : 'failed'}`,
    details: [
      ...defects.map(({ code, pads = [] }) => (pads.length === 0 ? code : `${code} at ${listed(pads)}`)),
      ...(voids.length === 0 ? [] : [`worst void ${(worst * 100).toFixed(0)} % of its joint`]),
      ...given(leadPct, 'wt% lead, measured'),
    ],
  };
}

function listed(items: readonly string[]): string {
  const more = items.length - MOST;
  return more <= 0 ? items.join(', ') : `${items.slice(0, MOST).join(', ')} and ${more} more`;
}

function counting(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

function given(value: number | undefined, unit: string): string[] {
  return value === undefined ? [] : [`${value} ${unit}`];
}

function named(name: string, value: string | undefined): string[] {
  return value === undefined ? [] : [`${name} ${value}`];
}

function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
