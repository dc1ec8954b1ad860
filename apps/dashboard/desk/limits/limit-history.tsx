import { Block } from '../kit/page.js';
import { When } from '../kit/when.js';
import type { LimitRecord } from './limit-queries.js';
import { actionWords, allowedWords, scopeWords } from './limit-words.js';
import { RecheckWords } from './recheck-words.js';

/** What the limit said, revision by revision. @param revisions newest first */
export function LimitHistory({ revisions }: { readonly revisions: readonly LimitRecord[] }) {
  return (
    <Block title="Revisions" note="All of them are kept; a verdict stays what it was by the one in force then.">
      <div className="scroll-x" role="region" aria-label="Revisions, newest first" tabIndex={0}>
        <table className="rows">
          <thead>
            <tr>
              <th scope="col" className="number">
                No.
              </th>
              <th scope="col">Allowed</th>
              <th scope="col">For</th>
              <th scope="col">Beyond it</th>
              <th scope="col">Source</th>
              <th scope="col">Takes effect</th>
              <th scope="col">Entered</th>
              <th scope="col">Judged anew</th>
            </tr>
          </thead>
          <tbody>
            {revisions.map((limit) => (
              <tr key={limit.revision}>
                <th scope="row" className="number">
                  {limit.revision}
                </th>
                <td>{allowedWords(limit.allowed, limit.unit)}</td>
                <td>{scopeWords(limit.scope ?? {})}</td>
                <td>{actionWords(limit.action)}</td>
                <td className="quiet">{limit.source}</td>
                <td>{limit.effectiveFrom === undefined ? 'at once' : <When at={limit.effectiveFrom} />}</td>
                <td>
                  <When at={limit.at} /> by {limit.by}
                </td>
                <td>
                  <RecheckWords recheck={limit.recheck} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Block>
  );
}
