import { useState } from 'react';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { Modal } from '../kit/modal.js';
import { Block } from '../kit/page.js';
import { clockTime } from '../kit/time-words.js';
import { useRole } from '../session/session-gate.js';
import { RepeatForm } from './repeat-form.js';

interface RepeatContainmentProps {
  readonly containment: Schemas['ContainmentNow'];
  /** When it was looked at, ms since 1970. */
  readonly atMs: number;
  readonly isLooking: boolean;
  readonly lookAgain: () => void;
}

/** What the cause has reached that is not held, as the book stands now: facts that came late, or all of it after a failure. */
export function RepeatContainment({ containment, atMs, isLooking, lookAgain }: RepeatContainmentProps) {
  const { id, state, missed } = containment;
  const [isSigning, setSigning] = useState(false);
  const mayContain = useRole('quality');
  const hasFailed = state === 'failed';
  return (
    <Block
      title={hasFailed ? 'Try again' : 'What came in late'}
      note={
        hasFailed
          ? 'Nothing of the last round is in force. Repeating it holds everything that the cause has touched and that is not held yet.'
          : 'A station that was away may post later what belongs here. Look again once all have caught up, before the case is closed.'
      }
    >
      <div className="containment-missed">
        {missed !== null && (
          <p role="status">
            {missed === 0 ? (
              <Mark tone="good">nothing is missing</Mark>
            ) : (
              <Mark tone="stop">{missed} touched and not held</Mark>
            )}{' '}
            as the book stood at {clockTime(atMs)}
          </p>
        )}
        <Button busy={isLooking} onClick={lookAgain}>
          Look again
        </Button>
        {mayContain && (hasFailed || (missed ?? 0) > 0) && (
          <Button
            tone="stop"
            onClick={() => {
              setSigning(true);
            }}
          >
            {hasFailed ? 'Repeat it …' : `Hold ${missed === 1 ? 'it' : `these ${String(missed)}`} too …`}
          </Button>
        )}
      </div>
      {isSigning && (
        <Modal
          title="Contain again"
          onClose={() => {
            setSigning(false);
          }}
        >
          <RepeatForm
            id={id}
            onDone={() => {
              setSigning(false);
            }}
          />
        </Modal>
      )}
    </Block>
  );
}
