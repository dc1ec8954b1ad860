import { Rules, SetupRevision } from '../setup/setup-data.js';
import { LimitKind, LimitRule } from './limit-rule.js';

/** The setup as it would be with a draft as the newest revision of a limit. */
export function withDraft(rules: Rules, name: string, draft: LimitRule): Rules {
  return withLine(rules, draft.kind, name, (line) => [
    { name, revision: (line[0]?.revision ?? 0) + 1, body: draft },
    ...line,
  ]);
}

/** The setup without what came of a limit after a revision (0: without the limit). */
export function upToRevision(rules: Rules, kind: LimitKind, name: string, revision: number): Rules {
  return withLine(rules, kind, name, (line) => line.filter((one) => one.revision <= revision));
}

type Line = readonly SetupRevision<'limit'>[];

function withLine(rules: Rules, kind: LimitKind, name: string, change: (line: Line) => Line): Rules {
  const known = rules.limits(kind);
  const own = known.find(([newest]) => newest?.name === name) ?? [];
  const changed = change(own);
  const lines = [...known.filter((line) => line !== own), ...(changed.length > 0 ? [changed] : [])];
  return {
    version: rules.version,
    find: (wanted, record) => rules.find(wanted, record),
    limits: (wanted) => (wanted === kind ? lines : rules.limits(wanted)),
    concessions: (subject) => rules.concessions(subject),
  };
}
