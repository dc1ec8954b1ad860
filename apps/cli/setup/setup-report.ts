import { FieldChange } from './field-changes.js';
import { SetupChange, SetupPlan } from './plan-setup.js';

/** A value longer than this is cut in words; `--json` has all of it. */
const LONGEST_VALUE = 120;

/** A change in words: a line for the record, and one for each field that differs. */
export function changeInWords({ record, isNew, fields }: SetupChange): readonly string[] {
  const { section, name } = record;
  if (isNew) return [`${section.kind} ${name}: new`];
  const width = Math.max(...fields.map(({ field }) => field.length));
  return [`${section.kind} ${name}:`, ...fields.map((change) => `    ${change.field.padEnd(width)}  ${step(change)}`)];
}

function step(change: FieldChange): string {
  const from = 'from' in change ? shown(change.from) : '(not there)';
  return `${from} -> ${'to' in change ? shown(change.to) : '(not there)'}`;
}

function shown(value: unknown): string {
  const text = JSON.stringify(value);
  return text.length <= LONGEST_VALUE ? text : `${text.slice(0, LONGEST_VALUE)}…`;
}

/** What the plan comes to, in one line. */
export function planInWords({ changes, same }: SetupPlan): string {
  const fresh = changes.filter(({ isNew }) => isNew).length;
  return `${String(fresh)} new, ${String(changes.length - fresh)} different, ${String(same)} as in force already`;
}

/** What `--json` prints. @param applied how many of the changes were entered */
export function setupReport({ changes, same, warnings }: SetupPlan, dryRun: boolean, applied: number): object {
  return {
    dryRun,
    same,
    warnings,
    changes: changes.map(({ record, isNew, fields }, place) => ({
      kind: record.section.kind,
      name: record.name,
      at: record.at(),
      change: isNew ? 'new' : 'different',
      fields,
      applied: place < applied,
    })),
  };
}
