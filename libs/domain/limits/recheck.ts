import { Effect } from '../book/effect.js';
import { evolve } from '../book/evolve.js';
import { DeviceState, UnitState, World } from '../book/state.js';
import { compareOrder, readableTime } from '../events/event-order.js';
import { causeKey, Cause } from '../holds/cause.js';
import { Rules } from '../setup/setup-data.js';
import { parseStream, StreamKey, Subject, subjectKey, unitKey } from '../subject/subject.js';
import { LimitKind } from './limit-rule.js';
import { RecheckMark, recheckOrder } from './recheck-mark.js';
import { upToRevision } from './limit-lines.js';
import { gravityOf, StandingChange, standingChanges } from './standing-change.js';
import { subjectsOf } from './standing.js';

export interface Rechecked {
  readonly changes: readonly StandingChange[];
  readonly effects: readonly Effect[];
  /** Ledger that tells of it: of the unit, also for a device aboard, or of the loose device. */
  readonly ledger: StreamKey;
}

/** More of them, and the oldest are forgotten: no subject stays in the house for so many revisions. */
const MOST_RECHECKS = 100;

/**
 * Judges a unit (without its devices) or a device anew: what stands worse than under the revision before calls for a
 * hold or a warning, what no longer calls for a hold loses its causes, unless they were released. What has left is left
 * alone. The state is marked, so that facts from before are late from here on.
 * @param rules the setup at `recheck.version`.
 * @returns undefined where `world` has no such subject.
 */
export function recheckSubject(
  world: World,
  rules: Rules,
  recheck: RecheckMark,
  key: StreamKey,
): Rechecked | undefined {
  const stream = parseStream(key) ?? deviceStream(key);
  const state = stream.kind === 'device' ? world.devices.get(stream.device) : world.units.get(key);
  if (stream.kind === 'station' || state === undefined) return undefined;
  const { kind, limit, revision, effectiveAt } = recheck;
  const subjects = isOpen(world, state)
    ? 'device' in state
      ? [deviceOf(state, kind)].flat()
      : subjectsOf(state, kind)
    : [];
  const setups = {
    before: upToRevision(rules, kind, limit, revision - 1),
    after: upToRevision(rules, kind, limit, revision),
  };
  const changes = standingChanges(world, setups, kind, subjects, effectiveAt);
  const effects = changes.flatMap((change) => effectsOf(world, rules, recheck, change));
  for (const effect of effects) evolve(world, effect);
  for (const change of changes) lift(world, recheck, change);
  mark(state, recheck);
  const place = 'device' in state ? state.place : state;
  return { changes, effects, ledger: place === null ? key : unitKey(place.assembly, place.serial) };
}

/** A device that came without a name has one that is longer than a stream's name may be. */
function deviceStream(key: StreamKey): { readonly kind: 'device'; readonly device: string } {
  return { kind: 'device', device: key.slice('devices/'.length) };
}

function deviceOf({ device }: DeviceState, kind: LimitKind): Subject[] {
  return kind === 'device-excursions' ? [{ kind: 'device', device }] : [];
}

/** Whether it is still in the house: a loose device, or a unit that has not left, or a device on such a unit. */
function isOpen(world: World, state: UnitState | DeviceState): boolean {
  if (!('device' in state)) return state.status === 'in-house' || state.status === 'expected';
  if (state.place === null) return state.status === 'loose';
  const unit = world.units.get(unitKey(state.place.assembly, state.place.serial));
  return unit !== undefined && isOpen(world, unit);
}

function effectsOf(world: World, rules: Rules, recheck: RecheckMark, change: StandingChange): Effect[] {
  const { breach } = change.after;
  if (breach === undefined || gravityOf(change.before) === breach.action) return [];
  const { kind, at } = recheck;
  const { subject } = change;
  if (isHeldByIt(world, recheck, change)) return [];
  const { evidence, remedy } = breach;
  const told = `${evidence.summary} ${occasionOf(recheck)}`;
  if (breach.action === 'warn') {
    const stream = subject.kind === 'device' ? subjectKey(subject) : unitKey(subject.assembly, subject.serial);
    return [{ kind: 'warned', stream, code: kind, subject, detail: told, remedy, at }];
  }
  const place = subject.kind === 'device' ? world.devices.get(subject.device)?.place : subject;
  const customer = place ? rules.find('assembly', place.assembly)?.body.customer : undefined;
  const cause: Cause = {
    reason: kind,
    subject,
    event: recheckOrder(recheck),
    ...(place && { unit: { assembly: place.assembly, serial: place.serial } }),
    ...(customer !== undefined && { customer }),
    evidence: { ...evidence, summary: told },
    remedy,
  };
  return [{ kind: 'hold-called', cause }];
}

/** A fact that was first judged by this very revision has said so already; it was never kept until then. */
function isHeldByIt({ causes }: World, { kind, limit, revision }: RecheckMark, { subject }: StandingChange): boolean {
  const key = subjectKey(subject);
  return causes.some(
    ({ reason, subject: held, evidence }) =>
      reason === kind &&
      subjectKey(held) === key &&
      evidence.limit?.name === limit &&
      evidence.limit.revision === revision,
  );
}

function occasionOf({ limit, revision, effectiveAt, by }: RecheckMark): string {
  return `It was kept until then: limit ${limit} became stricter with its revision ${String(revision)}, in force from ${readableTime(effectiveAt)}, entered by ${by}.`;
}

/** What nobody has released loses its causes where the limit no longer calls for a hold. */
function lift(world: World, { kind }: RecheckMark, { subject, before, after }: StandingChange): void {
  if (gravityOf(before) !== 'hold' || gravityOf(after) === 'hold') return;
  const key = subjectKey(subject);
  world.causes = world.causes.filter(
    (cause) => cause.reason !== kind || subjectKey(cause.subject) !== key || world.releases.has(causeKey(cause)),
  );
}

function mark(state: UnitState | DeviceState, recheck: RecheckMark): void {
  const order = recheckOrder(recheck);
  if (state.last === null || compareOrder(state.last, order) < 0) state.last = order;
  state.rechecks = [...(state.rechecks ?? []), recheck].slice(-MOST_RECHECKS);
}
