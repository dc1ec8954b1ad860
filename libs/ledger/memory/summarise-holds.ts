import { HoldRecord } from '../holds/hold-record.js';
import { isOverdue, stageOf } from '../holds/hold-stage.js';
import { HoldSummary } from '../ports/read-store.js';

const DAY_MS = 24 * 60 * 60 * 1000;

/** Counts the open ones of holds, oldest first, at `now` (RFC 3339). One without customer or station counts for none. */
export function summariseHolds(holds: readonly HoldRecord[], now: string): HoldSummary {
  const open = holds.filter(({ state }) => state === 'open');
  const agesMs = open.map(({ raisedAt }) => Date.parse(now) - Date.parse(raisedAt));
  return {
    open: open.length,
    oldestRaisedAt: open[0]?.raisedAt ?? null,
    byReason: tally(open.map(({ reason }) => reason)),
    byCustomer: tally(open.map(({ customer }) => customer)),
    byStation: tally(open.map(({ station }) => station)),
    byAssignee: tally(open.map(({ assignee }) => assignee)),
    byStage: { new: 0, assigned: 0, decided: 0, ...tally(open.map(stageOf)) },
    overdue: open.filter((hold) => isOverdue(hold, now)).length,
    byAge: {
      underOneDay: agesMs.filter((ageMs) => ageMs < DAY_MS).length,
      oneToSevenDays: agesMs.filter((ageMs) => ageMs >= DAY_MS && ageMs < 7 * DAY_MS).length,
      overSevenDays: agesMs.filter((ageMs) => ageMs >= 7 * DAY_MS).length,
    },
  };
}

function tally(names: readonly (string | null)[]): Record<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) {
    if (name !== null) counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return Object.fromEntries(counts);
}
