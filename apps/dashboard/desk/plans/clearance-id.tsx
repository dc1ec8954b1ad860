import { useState } from 'react';
import { Button } from '../kit/button.js';

/** The id of a clearance, large, to be read off or copied. */
export function ClearanceId({ id }: { readonly id: string }) {
  const [said, setSaid] = useState('');
  const copy = () => {
    navigator.clipboard.writeText(id).then(
      () => {
        setSaid('copied');
      },
      () => {
        setSaid('not copied: the browser did not allow it; select it by hand');
      },
    );
  };
  return (
    <p className="plan-answer__id">
      <strong className="mono">{id}</strong>
      <Button onClick={copy}>Copy</Button>
      <span role="status" className="quiet">
        {said}
      </span>
    </p>
  );
}
