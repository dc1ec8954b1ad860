import { useMemo } from 'react';
import { Block } from '../kit/page.js';
import { dateAndTime } from '../kit/time-words.js';
import { useRole } from '../session/session-gate.js';
import { entryInWords } from '../units/entry-words.js';
import { HOUSE } from '../units/unit-queries.js';
import { HoldCurve } from './hold-curve.js';
import { type HeldHeat, heldHeats } from './hold-heat.js';
import { HoldHeatTable } from './hold-heat-table.js';
import { HoldVerdicts } from './hold-verdicts.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-heats.css';

/** The heats that called for a hold: what each thermocouple saw, what was judged by it, and the curve where there is one. */
export function HoldHeats({ hold: { causes, subject } }: { readonly hold: ExplainedHold }) {
  // Curves are drawn anew for other figures; what changes else about a hold leaves these as they are.
  const heats = useMemo(() => heldHeats({ causes, subject }), [causes, subject]);
  const [first, ...more] = heats;
  if (first === undefined) return null;
  return (
    <Block title={heats.length === 1 ? 'The heat' : 'The heats'}>
      <OneHeat heat={first} />
      {more.map((heat) => (
        <details key={`${heat.entry.subject} ${heat.entry.seq}`} className="hold-heats__more">
          <summary>{titleOf(heat)}</summary>
          <OneHeat heat={heat} />
        </details>
      ))}
    </Block>
  );
}

function OneHeat({ heat }: { readonly heat: HeldHeat }) {
  const isHouse = useRole(...HOUSE);
  const { trace, thermocouples } = heat;
  return (
    <div className="hold-heats">
      <p className="quiet">{titleOf(heat)}</p>
      <HoldVerdicts heat={heat} />
      {thermocouples.length === 0 ? (
        <p>No thermocouple was on it: what counts is inferred from the step.</p>
      ) : (
        <HoldHeatTable heat={heat} />
      )}
      {trace !== undefined && isHouse && <HoldCurve heat={heat} trace={trace} />}
    </div>
  );
}

/** `Device placed: K-0103 on U1, 2026-03-03 08:51 to 09:00`. */
function titleOf(heat: HeldHeat): string {
  const [from, to] = [dateAndTime(heat.startedAt), dateAndTime(heat.endedAt)];
  const until = to.slice(0, 10) === from.slice(0, 10) ? to.slice(11) : to;
  return `${entryInWords(heat.entry).title}, ${from} to ${until}${heat.trace === undefined ? '' : `, trace ${heat.trace}`}`;
}
