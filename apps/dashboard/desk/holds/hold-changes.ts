import { decisionWords } from '../words/words.js';
import type { ExplainedHold } from './hold-shape.js';

/** What became of a hold between two looks at it, a sentence each; empty where both are of the same version. */
export function changesBetween(before: ExplainedHold, now: ExplainedHold): readonly string[] {
  if (before.version === now.version) return [];
  const changes = [
    ...stateChange(before, now),
    ...now.dispositions.slice(before.dispositions.length).map(({ decision, note, signature: { by } }) => {
      return `${by} decided “${decisionWords(decision)}”: ${note}`;
    }),
    ...assignmentChange(before, now),
    ...(now.comments ?? []).slice(before.comments?.length ?? 0).map(({ by, text }) => `${by} commented: ${text}`),
    ...(now.causes.length > before.causes.length ? ['Another event joined its causes.'] : []),
    ...(now.causeGone && !before.causeGone ? ['What called for it is gone.'] : []),
  ];
  return changes.length === 0 ? ['Its evidence or its causes were judged anew.'] : changes;
}

function stateChange(before: ExplainedHold, { state, release }: ExplainedHold): string[] {
  if (state === before.state) return [];
  if (state === 'released' && release !== null) return [`${release.by} released it: ${release.note}`];
  return [state === 'withdrawn' ? 'The book took it back.' : 'It is open again.'];
}

function assignmentChange(before: ExplainedHold, now: ExplainedHold): string[] {
  const due = now.dueAt !== before.dueAt ? [now.dueAt == null ? 'It is due no more.' : 'Its due date changed.'] : [];
  if (now.assignee === before.assignee) return due;
  return [now.assignee == null ? 'It was given back: nobody has it.' : `${now.assignee} has it now.`, ...due];
}
