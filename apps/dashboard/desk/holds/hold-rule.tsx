import { Link } from 'wouter';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { HOUSE } from '../units/unit-queries.js';
import { limitWords } from '../words/words.js';
import { allowedInWords, scopeInWords } from './hold-figures.js';
import type { ExplainedHold } from './hold-shape.js';

/** The rule that broke, as it read when it was judged: what it allows, of whom, and where its figure comes from. */
export function HoldRule({ rule }: { readonly rule: NonNullable<ExplainedHold['rule']> }) {
  const { name, revision, kind, allowed, unit, scope, source, effectiveFrom } = rule;
  const isHouse = useRole(...HOUSE);
  // A maker's figure is a limit of its part and has no page of its own.
  const hasPage = isHouse && !name.startsWith('part ');
  return (
    <div>
      <h3>The rule</h3>
      <dl className="facts">
        <dt>Limit</dt>
        <dd>
          {limitWords(kind).replace(/, at (least|most)$/, '')}: <strong>{allowedInWords(kind, allowed, unit)}</strong>
        </dd>
        <dt>For</dt>
        <dd>{scopeInWords(scope)}</dd>
        <dt>Kept as</dt>
        <dd>
          {hasPage ? <Link href={paths.limit(name)}>{name}</Link> : name}, revision {revision}
          {effectiveFrom !== undefined && (
            <>
              , in force since <When at={effectiveFrom} />
            </>
          )}
        </dd>
        <dt>Its source</dt>
        <dd>{source}</dd>
      </dl>
    </div>
  );
}
