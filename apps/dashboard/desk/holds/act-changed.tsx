import { Button } from '../kit/button.js';
import './act-changed.css';

interface ActChangedProps {
  readonly changes: readonly string[];
  readonly onAccept: () => void;
}

/** Says what became of the hold while one was writing, and lets one go on from there. What was written stays. */
export function ActChanged({ changes, onAccept }: ActChangedProps) {
  if (changes.length === 0) return null;
  return (
    <div className="act-changed" role="alert">
      <p>
        <strong>The hold changed while you were at it.</strong> What you have written is still here.
      </p>
      <ul>
        {changes.map((change) => (
          <li key={change}>{change}</li>
        ))}
      </ul>
      <Button onClick={onAccept}>Seen, go on</Button>
    </div>
  );
}
