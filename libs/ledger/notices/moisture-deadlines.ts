import { ClockEnd } from '../../domain/book/clock-end.js';
import { devicesAboard } from '../../domain/book/reach.js';
import { emptyWorld, World } from '../../domain/book/state.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { deviceKey, StreamKey, unitKey } from '../../domain/subject/subject.js';
import { SubjectRecord } from '../ports/book-store.js';
import { ReadStore } from '../ports/read-store.js';
import { clockEndOf } from './clock-end-of.js';
import { Deadline, levelAt } from './notice.js';

/** A subject that was looked at, with the end of its floor life under the setup as it is now. */
export interface ClockLook {
  readonly record: SubjectRecord;
  readonly clock: ClockEnd | null;
  /** What is to be told of it now. */
  readonly deadline: Deadline | undefined;
}

/** Looks at the clocks of units and loose devices, at `now` (RFC 3339). Subjects that are not in the book are left out. */
export async function lookAtClocks(
  reads: Pick<ReadStore, 'subjects'>,
  keys: readonly StreamKey[],
  rules: Rules,
  now: string,
): Promise<ClockLook[]> {
  const records = await reads.subjects(keys);
  const aboard = records.flatMap(({ state }) => (state?.kind === 'unit' ? devicesAboard(state.state) : []));
  const world = worldOf([...records, ...(await reads.subjects([...new Set(aboard)].map(deviceKey)))]);
  return records.map((record) => {
    const clock = clockEndOf(world, rules, record.state);
    return { record, clock, deadline: clock === null ? undefined : deadlineOf(record, clock, now) };
  });
}

function worldOf(records: readonly SubjectRecord[]): World {
  const world = emptyWorld();
  for (const { state } of records) {
    if (state?.kind === 'unit') world.units.set(unitKey(state.state.assembly, state.state.serial), state.state);
    if (state?.kind === 'device') world.devices.set(state.state.device, state.state);
  }
  return world;
}

function deadlineOf({ state }: SubjectRecord, clock: ClockEnd, now: string): Deadline | undefined {
  const { device, endsAt } = clock;
  const level = levelAt(now, clock.warnsAt, endsAt);
  if (level === undefined || state === null || state.kind === 'station') return undefined;
  const onUnit = state.kind === 'unit';
  const who = onUnit ? `${device} on ${state.state.assembly}/${state.state.serial}` : device;
  return {
    kind: 'moisture',
    level,
    subject: onUnit
      ? { kind: 'unit', assembly: state.state.assembly, serial: state.state.serial }
      : { kind: 'device', device },
    item: '',
    dueAt: new Date(endsAt).toISOString(),
    detail:
      level === 'due'
        ? `The floor life of ${who} ran out at ${endsAt}, or is no longer known not to have.`
        : `The floor life of ${who} runs out at ${endsAt} unless it is soldered, dried or stored dry before.`,
    remedy: `Bake ${onUnit ? 'the board' : device} before the next heat, or put it into dry storage in time; its moisture says how long a bake it needs.`,
  };
}
