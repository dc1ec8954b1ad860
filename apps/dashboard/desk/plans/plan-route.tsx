import type { Schemas } from '../api/client.js';
import { entryWords, methodWords } from '../words/words.js';

interface PlanRouteProps {
  readonly row: Schemas['PlanRow'];
  /** Name of the device that is to be placed; empty where it is not chosen. */
  readonly newDevice: string;
}

/** The steps of a route in their order, with what each spends, and why. */
export function PlanRoute({ row, newDevice }: PlanRouteProps) {
  return (
    <div className="scroll-x" tabIndex={0} role="region" aria-label="Steps of the route">
      <table className="rows">
        <thead>
          <tr>
            <th scope="col">Step</th>
            <th scope="col">With</th>
            <th scope="col">Spends</th>
            <th scope="col" className="number">
              min
            </th>
          </tr>
        </thead>
        <tbody>
          {row.steps.map((step, n) => (
            <tr key={`${String(n)} ${step.type}`}>
              <th scope="row">
                {n + 1}. {entryWords(step.type)}
                {step.fate !== undefined && <span className="quiet">, to {step.fate}</span>}
              </th>
              <td>{withInWords(step, newDevice)}</td>
              <td>{step.why}</td>
              <td className="number">{Math.round(step.minutes)}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={3}>
              In all
            </th>
            <td className="number">{Math.round(row.minutes)}</td>
          </tr>
        </tfoot>
      </table>
    </div>
  );
}

function withInWords({ type, device, method, profile }: Schemas['PlanStep'], newDevice: string): string {
  const placed = type === 'heatbook.device.placed.v1' ? (device ?? (newDevice === '' ? undefined : newDevice)) : device;
  const parts = [
    ...(method === undefined ? [] : [methodWords(method).toLowerCase()]),
    ...(placed === undefined ? [] : [placed]),
    ...(profile === undefined ? [] : [`profile ${profile.name} revision ${profile.revision}`]),
  ];
  return parts.length === 0 ? 'no profile named' : parts.join(', ');
}
