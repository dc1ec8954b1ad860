import { Heat, ThermocoupleSummary } from '../domain/events/heat.js';
import { StationEventData, StationEventType } from '../domain/events/station-event.js';
import { isClearedType } from '../domain/clearance/clearance.js';
import { SiteDesign } from '../domain/setup/setup-data.js';
import { DEMO_ASSEMBLIES } from './boards/demo-assemblies.js';
import { profileAlloy, ProfilePurpose } from './boards/demo-profiles.js';
import { Bench } from './crew.js';
import { DayLog, MINUTE_MS, timeText } from './day-log.js';
import { hotGasReadings } from './hot-gas-readings.js';
import { plannedStep } from './planned-step.js';
import { AskAct, PostAct } from './simulated-act.js';
import { StationCloudEvent } from './station-cloud-event.js';
import { HeatWish, hotGasRecipe } from './traces/hot-gas-recipe.js';
import { makeTrace } from './traces/make-trace.js';
import { summedUp } from './traces/sum-up-trace.js';

/** How one step is told otherwise than at once, by the right clock and of the board in hand. */
export interface Telling {
  /** How much later it is posted, minutes. */
  readonly lateMinutes?: number;
  /** How far the clock of the station is behind, minutes. */
  readonly clockBehindMinutes?: number;
  /** Stream key in place of that of the board. */
  readonly subject?: string;
}

interface OpenPlan {
  readonly ask: Omit<AskAct, 'steps'>;
  readonly events: StationCloudEvent[];
}

/** Clamping the board and lowering the nozzle, before the heat begins. */
const SET_UP_MINUTES = 3;
/** Somebody reads the label, presses a key: between the end of a step and its post, s. */
const POSTED_AFTER_S = [3, 20] as const;
/** Of a heat that nobody logged. */
const UNLOGGED_MINUTES = 7;

/** One board at a bench: tells what happens to it, asks before it gets hot. `nowMs` is when its last step ended. */
export class SimulatedBoard {
  nowMs: number;
  private steps = 0;
  private heats = 0;
  private plan: OpenPlan | undefined;

  constructor(
    private readonly log: DayLog,
    readonly bench: Bench,
    readonly assembly: string,
    readonly serial: string,
  ) {
    this.nowMs = bench.freeAtMs;
  }

  get key(): string {
    return `${this.assembly}/${this.serial}`;
  }

  get random(): DayLog['random'] {
    return this.log.random;
  }

  design(refdes: string): SiteDesign {
    const site = DEMO_ASSEMBLIES[this.assembly]?.sites.find((one) => one.refdes === refdes);
    if (site === undefined) throw new Error(`no site ${refdes} on ${this.assembly}`);
    return site;
  }

  sites(): readonly string[] {
    return (DEMO_ASSEMBLIES[this.assembly]?.sites ?? []).map(({ refdes }) => refdes);
  }

  /** A step at this bench, which takes the operator their time. */
  step<T extends StationEventType>(
    type: T,
    station: string,
    minutes: number,
    data: StationEventData[T],
    telling: Telling = {},
  ): PostAct {
    this.nowMs += Math.round(minutes * this.bench.operator.pace * 60) * 1000;
    return this.tell(type, station, this.nowMs, data, telling);
  }

  /** Tells of something that was over at a time, about this board or, with a subject, about something of it. */
  tell<T extends StationEventType>(
    type: T,
    station: string,
    timeMs: number,
    data: StationEventData[T],
    { lateMinutes = 0, clockBehindMinutes = 0, subject = this.key }: Telling = {},
  ): PostAct {
    this.steps += 1;
    const id = `${this.assembly}:${this.serial}:${String(this.steps).padStart(2, '0')}`;
    const event = this.log.event({
      ...{ type, station, subject, id, data },
      timeMs: timeMs - clockBehindMinutes * MINUTE_MS,
    });
    const wanted = isClearedType(type) ? this.plan : undefined;
    wanted?.events.push(event);
    // What happened before the shift is told when it begins.
    const over = Math.max(timeMs, this.log.startMs);
    const atMs = over + this.random.whole(...POSTED_AFTER_S) * 1000 + lateMinutes * MINUTE_MS;
    const under = wanted?.ask.id ?? null;
    const act: PostAct = { kind: 'post', atMs, board: this.key, event, under, late: lateMinutes > 0 };
    this.log.add(act);
    return act;
  }

  /** Posts once more what was posted, or something like it, so much later. */
  again(act: PostAct, minutes: number, id = act.event.id): void {
    this.log.add({ ...act, atMs: act.atMs + minutes * MINUTE_MS, event: { ...act.event, id } });
  }

  /** From here on heats are of one plan, for which the bench asks a minute before. */
  asks(ifRefused: AskAct['ifRefused'] = 'put-aside'): void {
    const { hotGas: station, operator } = this.bench;
    const id = `${this.assembly}:${this.serial}:ask`;
    const atMs = this.nowMs + MINUTE_MS;
    const ask = { kind: 'ask', id, atMs, board: this.key, station, operator: operator.name, ifRefused } as const;
    this.plan = { ask, events: [] };
  }

  /** The plan is done: only now is it known what it asks for. */
  endsPlan(): void {
    if (this.plan === undefined) return;
    this.log.add({ ...this.plan.ask, steps: this.plan.events.map(plannedStep) });
    this.plan = undefined;
  }

  profile(refdes: string, purpose: ProfilePurpose): { name: string; revision: string } {
    return { name: `${this.assembly}-${refdes}-${purpose}`, revision: 'B' };
  }

  /** The next hot-gas heat of a site: logged, or read off the station's display. */
  hotGas(refdes: string, purpose: ProfilePurpose, wish: HeatWish = {}): Heat {
    this.heats += 1;
    const alloy = profileAlloy(this.design(refdes), purpose);
    const logged = this.random.next() < this.log.traced || wish.jointC !== undefined;
    if (!logged) return this.heatOf(UNLOGGED_MINUTES, hotGasReadings(this.random, alloy));
    const name = `${this.assembly}-${this.serial}-${String(this.heats)}`;
    const trace = makeTrace(hotGasRecipe(this.random, name, alloy, wish), this.random);
    const heat = this.heatOf(trace.lengthS / 60, summedUp(trace));
    const atMs = Date.parse(heat.endedAt) + 2000;
    this.log.add({ kind: 'trace', atMs, board: this.key, name, csv: trace.csv });
    return { ...heat, trace: name };
  }

  /** A heat that begins when the board is clamped. */
  heatOf(minutes: number, thermocouples: readonly ThermocoupleSummary[]): Heat {
    const fromMs = this.nowMs + SET_UP_MINUTES * MINUTE_MS;
    const toMs = fromMs + Math.ceil(minutes * 60) * 1000;
    return { startedAt: timeText(fromMs), endedAt: timeText(toMs), thermocouples };
  }

  leavesBench(): void {
    this.bench.freeAtMs = this.nowMs;
  }
}
