import { Block } from '../kit/page.js';
import { HoldBudgets } from './hold-budgets.js';
import { HoldFacts } from './hold-facts.js';
import { HoldRule } from './hold-rule.js';
import { HoldScale } from './hold-scale-drawn.js';
import { measuredScale } from './hold-scale.js';
import type { ExplainedHold } from './hold-shape.js';
import { HoldTally } from './hold-tally.js';
import './hold-broken.css';

/** What happened: the figure that broke, drawn against its limit, the rule beside it, and what it rests on. */
export function HoldBroken({ hold }: { readonly hold: ExplainedHold }) {
  const scale = measuredScale(hold);
  return (
    <Block title="What happened">
      <HoldTally hold={hold} />
      {scale !== null && <HoldScale scale={scale} />}
      <div className={`hold-broken${hold.rule === null ? '' : ' hold-broken--ruled'}`}>
        <HoldFacts hold={hold} />
        {hold.rule !== null && <HoldRule rule={hold.rule} />}
      </div>
      <HoldBudgets hold={hold} />
    </Block>
  );
}
