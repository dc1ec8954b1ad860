import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { dateAndTime } from '../kit/time-words.js';
import { type DamageRates, useDamageRates } from './damage-queries.js';
import { DamageTable } from './damage-table.js';
import { PeriodFilter } from './period-filter.js';
import { percent } from './rate-scale.js';
import { usePeriod } from './use-period.js';

/** Who and what damages how much, with how sure one can be of it. */
export function DamageBlock() {
  const rates = useDamageRates(usePeriod());
  return (
    <Block
      title="Damaged sites"
      note="Of the sites dressed and inspected, those found with lifted or missing pads, a scratched mask or thin pads; put down to
        the last dressing before. By chance alone one group in forty lies above the house: a mark is a reason to look, not a verdict
        on a person."
    >
      <PeriodFilter open="Last year" />
      <Loaded query={rates} what="damage rates">
        {(found) => (found.rates.length === 0 ? <NoDamage /> : <Groups found={found} />)}
      </Loaded>
    </Block>
  );
}

function Groups({ found }: { readonly found: DamageRates }) {
  const { houseRate, from, to, complete } = found;
  return (
    <>
      <p className="damage-block__house">
        House rate <strong>{houseRate === null ? 'unknown' : percent(houseRate)}</strong>, over all work written into
        the book from {dateAndTime(from)} to {dateAndTime(to)}.
        {!complete && ' There was more work than one answer reckons with: take a shorter period for all of it.'}
      </p>
      <DamageTable rates={found} />
      <p className="quiet">
        Dot: the rate; line: where it lies with 95 % confidence (Wilson). Dashed and hollow: too few sites to tell.
        Square and ✕: the whole line lies above the house. An arrow: it goes on beyond the scale.
      </p>
    </>
  );
}

function NoDamage() {
  return (
    <Empty title="No dressed site was inspected in this period.">
      <p>A rate needs both: the dressing, and an inspection of the site after it.</p>
    </Empty>
  );
}
