import { useState } from 'react';
import { Button } from '../kit/button.js';

/** Enough of a hash to tell two apart by eye. */
const SHORT = 12;

/** A hash in short, which can be copied whole. */
export function UnitHash({ hash }: { readonly hash: string }) {
  const [said, setSaid] = useState('');
  const copy = () => {
    navigator.clipboard.writeText(hash).then(
      () => {
        setSaid('copied');
      },
      () => {
        setSaid(`not copied: the browser did not allow it. ${hash}`);
      },
    );
  };
  return (
    <span className="unit-hash">
      <span className="mono" title={hash}>
        {hash.slice(0, SHORT)}…
      </span>
      <Button tone="bare" onClick={copy} aria-label="Copy the hash of the newest entry">
        copy
      </Button>
      <span role="status" className="quiet">
        {said}
      </span>
    </span>
  );
}
