import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { Block } from '../kit/page.js';
import { When } from '../kit/when.js';
import { decisionWords } from '../words/words.js';
import { HoldSignature } from './hold-signature.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-signed.css';

/** What was decided and released, by whom, and what they signed. Nothing where nobody has signed anything. */
export function HoldSigned({ hold: { dispositions, release } }: { readonly hold: ExplainedHold }) {
  if (dispositions.length === 0 && release === null) return null;
  return (
    <Block title="Decisions and signatures">
      <ol className="hold-signed">
        {dispositions.map((disposition, n) => (
          <Decided key={disposition.id} disposition={disposition} isInForce={n === dispositions.length - 1} />
        ))}
        {release !== null && (
          <li>
            <p>
              <strong>Released</strong> {release.withoutCause && <Mark>without a decision: its cause was gone</Mark>}
            </p>
            <p>{release.note}</p>
            {release.signature === null ? (
              <p className="quiet">
                Not signed: by {release.by}, <When at={release.at} />
              </p>
            ) : (
              <HoldSignature signature={release.signature} />
            )}
          </li>
        )}
      </ol>
    </Block>
  );
}

interface DecidedProps {
  readonly disposition: Schemas['Disposition'];
  readonly isInForce: boolean;
}

function Decided({ disposition: { decision, note, signature, approved }, isInForce }: DecidedProps) {
  return (
    <li>
      <p>
        <strong>{decisionWords(decision)}</strong>{' '}
        {isInForce ? <Mark tone="good">in force</Mark> : <Mark>decided anew since</Mark>}{' '}
        {approved && <Mark tone="good">by an approver</Mark>}
      </p>
      <p>{note}</p>
      <HoldSignature signature={signature} />
    </li>
  );
}
