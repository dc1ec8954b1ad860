import { type DrawnSeries, type HeatLine, secondsOver } from './heat-curves-series.js';

interface HeatFiguresProps {
  readonly series: readonly DrawnSeries[];
  readonly lines: readonly HeatLine[];
}

/** What the plot shows, as a table: peaks, and how long each curve was over each line. */
export function HeatFigures({ series, lines }: HeatFiguresProps) {
  return (
    <details className="heat-figures">
      <summary>As a table</summary>
      <div className="scroll-x" tabIndex={0} role="region" aria-label="Peaks and seconds over the lines">
        <table className="rows">
          <caption className="quiet">
            Read off the samples that are drawn. A curve of many samples is drawn from fewer; its peaks are kept.
          </caption>
          <thead>
            <tr>
              <th scope="col">Curve</th>
              <th scope="col" className="number">
                Peak, °C
              </th>
              <th scope="col" className="number">
                at, s
              </th>
              {lines.map(({ atC, label }) => (
                <th scope="col" className="number" key={label}>
                  Over {label} ({atC} °C), s
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {series.map((one) => (
              <tr key={one.mark}>
                <th scope="row">
                  {one.mark} · {one.name}
                </th>
                <td className="number">{one.peak?.atC.toFixed(1) ?? '–'}</td>
                <td className="number">{one.peak?.atS.toFixed(0) ?? '–'}</td>
                {lines.map(({ atC, label }) => (
                  <td className="number" key={label}>
                    {secondsOver(one, atC).toFixed(1)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
