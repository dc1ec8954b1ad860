import { exchanged, mismatches } from './hold-mismatch.js';

/** What a station said of a heat and what its trace shows, side by side. */
export function HoldMismatch({ details }: { readonly details: readonly string[] }) {
  const { rows, others } = mismatches(details);
  const swapped = exchanged(rows);
  return (
    <>
      {swapped !== null && (
        <p>
          <strong>
            With {swapped[0]} and {swapped[1]} exchanged, the figures agree:
          </strong>{' '}
          look first whether these two thermocouples were plugged or named the other way round.
        </p>
      )}
      {rows.length > 0 && (
        <div className="scroll-x" tabIndex={0} role="region" aria-label="Summary against trace">
          <table className="rows">
            <thead>
              <tr>
                <th scope="col">Thermocouple</th>
                <th scope="col">Figure</th>
                <th scope="col" className="number">
                  Station said
                </th>
                <th scope="col" className="number">
                  Trace shows
                </th>
                <th scope="col" className="number">
                  Apart
                </th>
                <th scope="col" className="number">
                  May be apart
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ thermocouple, figure, unit, said, trace, tolerance }) => (
                <tr key={`${thermocouple} ${figure}`}>
                  <th scope="row">{thermocouple}</th>
                  <td>
                    {figure}, {unit}
                  </td>
                  <td className="number">
                    <strong>{said}</strong>
                  </td>
                  <td className="number">
                    <strong>{trace}</strong>
                  </td>
                  <td className="number">{Math.abs(said - trace).toFixed(2)}</td>
                  <td className="number">{tolerance.toFixed(2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {others.map((other) => (
        <p key={other}>{other}</p>
      ))}
    </>
  );
}
