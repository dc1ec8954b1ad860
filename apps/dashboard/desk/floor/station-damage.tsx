import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { dayOf } from './day-of.js';
import { useDamageRates } from './damage-queries.js';
import { DamageVerdict } from './damage-verdict.js';
import { percent, scaleEnd } from './rate-scale.js';
import { RateWhisker } from './rate-whisker.js';

/** How often sites that were dressed here were found damaged, of what was written into the book in the last year. */
export function StationDamage({ station }: { readonly station: string }) {
  const rates = useDamageRates({});
  return (
    <Block title="Damaged sites" beside={<Link href={paths.people}>Beside other stations</Link>}>
      <Loaded query={rates} what="its damage rate">
        {({ rates: all, houseRate, from, to }) => {
          const rate = all.find(({ by, name }) => by === 'station' && name === station);
          if (rate === undefined) return <Empty title="No site that it dressed was inspected in the last year." />;
          const { low, high } = rate.interval;
          return (
            <>
              <p>
                <strong>
                  {rate.damaged} of {rate.sites} sites
                </strong>
                , {percent(rate.rate)} (95 % interval {percent(low)} to {percent(high)});{' '}
                {houseRate === null ? 'no house rate' : `house ${percent(houseRate)}, the copper line`}
              </p>
              <RateWhisker
                rate={rate}
                end={scaleEnd([{ ...rate, verdict: 'within' }], houseRate)}
                houseRate={houseRate}
              />
              <p>
                <DamageVerdict rate={rate} />
              </p>
              <p className="quiet">
                {rate.why}. Of work written into the book from {dayOf(from)} to {dayOf(to)}.
              </p>
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}
