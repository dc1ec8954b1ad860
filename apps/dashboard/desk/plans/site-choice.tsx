import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { paths } from '../paths.js';
import { conditionOf, deviceInWords } from '../units/site-words.js';
import type { PlanWish } from './plan-wish.js';

interface SiteChoiceProps {
  readonly unit: Schemas['Unit'];
  readonly wish: PlanWish;
  readonly onChange: (wish: PlanWish) => void;
}

/** The sites of a unit, with part, what they are like, and what sits on them. */
export function SiteChoice({ unit, wish, onChange }: SiteChoiceProps) {
  const { assembly, serial, sites } = unit;
  if (sites.length === 0) return <p>Its assembly has no site in the setup: enter them there first.</p>;
  return (
    <fieldset className="plan-choice__set">
      <legend>
        Site on{' '}
        <Link className="mono" href={paths.unit(assembly, serial)}>
          {assembly} / {serial}
        </Link>
      </legend>
      <div className="plan-choice__sites">
        {sites.map((site) => {
          const { tone, words } = conditionOf(site);
          return (
            <label key={site.refdes}>
              <input
                type="radio"
                name="refdes"
                checked={wish.refdes === site.refdes}
                onChange={() => {
                  onChange({ ...wish, refdes: site.refdes });
                }}
              />
              <span>
                <strong>{site.refdes}</strong> {site.part},{' '}
                {tone === 'plain' ? words : <Mark tone={tone}>{words}</Mark>}
                {site.device !== null && <span className="quiet"> {deviceInWords(site.device)}</span>}
              </span>
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
