import type { Schemas } from '../api/client.js';
import { When } from '../kit/when.js';

/** A signature: who, when, what they meant, and the hash of what they signed. */
export function HoldSignature({ signature }: { readonly signature: Schemas['Signature'] }) {
  const { by, printedName, at, meaning, contentHash, erased } = signature;
  return (
    <>
      <p>
        Signed by {printedName} ({by}), <When at={at} />: “{meaning}”
        {erased === true && <span className="quiet"> The printed name was erased; a pseudonym stands for it.</span>}
      </p>
      <details>
        <summary className="quiet">What was signed</summary>
        <p className="quiet">
          SHA-256 of it: <span className="mono">{contentHash}</span>
        </p>
      </details>
    </>
  );
}
