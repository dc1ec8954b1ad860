import { governedBy, type HeldHeat, type Thermocouple, verdictSubject } from './hold-heat.js';

/** What each thermocouple saw, and what its reading decided. */
export function HoldHeatTable({ heat }: { readonly heat: HeldHeat }) {
  return (
    <div className="scroll-x" tabIndex={0} role="region" aria-label="Thermocouples of the heat">
      <table className="rows">
        <thead>
          <tr>
            <th scope="col">Thermocouple</th>
            <th scope="col">On</th>
            <th scope="col" className="number">
              Peak, °C
            </th>
            <th scope="col" className="number">
              Over liquidus, s
            </th>
            <th scope="col" className="number">
              Rise, °C/s
            </th>
            <th scope="col" className="number">
              Fall, °C/s
            </th>
            <th scope="col">Decided for</th>
          </tr>
        </thead>
        <tbody>
          {heat.thermocouples.map((reading) => (
            <Row key={`${reading.id} ${reading.refdes ?? ''}`} heat={heat} reading={reading} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Row({ heat, reading }: { readonly heat: HeldHeat; readonly reading: Thermocouple }) {
  const { id, position, refdes, peakC, secondsAboveLiquidus, liquidusC, maxRiseCPerS, maxFallCPerS } = reading;
  const governed = governedBy(heat, id);
  const told = governed[0]?.count.verdict?.reading.uncertaintyC ?? reading.uncertaintyC;
  const at = refdes ?? heat.refdes;
  return (
    <tr>
      <th scope="row">{id}</th>
      <td>
        {position}
        {at !== undefined && ` of ${at}`}
      </td>
      <td className="number">
        {governed.length > 0 ? <strong>{peakC}</strong> : peakC}
        {told !== undefined && ` ± ${told}`}
      </td>
      <td className="number">
        {secondsAboveLiquidus ?? '–'}
        {secondsAboveLiquidus !== undefined && liquidusC !== undefined && ` (${liquidusC} °C)`}
      </td>
      <td className="number">{maxRiseCPerS ?? '–'}</td>
      <td className="number">{maxFallCPerS ?? '–'}</td>
      <td>{[...new Set(governed.map(({ subject }) => verdictSubject(heat, subject)))].join(', ')}</td>
    </tr>
  );
}
