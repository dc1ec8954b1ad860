import { type ReactNode, useState } from 'react';
import { Button } from '../kit/button.js';
import { Modal } from '../kit/modal.js';
import { useRole } from '../session/session-gate.js';
import { ActAssign } from './act-assign.js';
import { concedableOf } from './act-concedable.js';
import { ActConcession } from './act-concession.js';
import { ActDispose } from './act-dispose.js';
import { ActRelease } from './act-release.js';
import { ActRetry } from './act-retry.js';
import { ActStrike } from './act-strike.js';
import { refusalsOf } from './hold-next.js';
import { HoldReleasers } from './hold-releasers.js';
import { actionOf, type ExplainedHold, inForce, waitsForItsEvent } from './hold-shape.js';
import './hold-actions.css';

type Opened = 'dispose' | 'release' | 'assign' | 'concession' | 'strike';

const TITLES: Readonly<Record<Opened, string>> = {
  dispose: 'Decide what becomes of it',
  release: 'Release the hold',
  assign: 'Give it to somebody',
  concession: 'Concession by the customer',
  strike: 'Strike an event',
};

/** What can be done about a hold: what one may is a button, what one may not is said with the reason. */
export function HoldActions({ hold }: { readonly hold: ExplainedHold }) {
  const [opened, setOpened] = useState<Opened>();
  const [told, setTold] = useState('');
  const open = (which: Opened) => () => {
    setTold('');
    setOpened(which);
  };
  const done = (words: string) => () => {
    setOpened(undefined);
    setTold(words);
  };
  const isOpen = hold.state === 'open';
  const [first] = hold.causes;
  const mayRetry = useRole('quality', 'admin');
  return (
    <div className="hold-actions">
      {told !== '' && (
        <p role="status" className="hold-actions__told">
          {told}
        </p>
      )}
      {waitsForItsEvent(hold) && first !== undefined && <ActRetry hold={hold.id} event={first} mayRetry={mayRetry} />}
      {isOpen && <MainActions hold={hold} open={open} />}
      <MoreActions hold={hold} open={open} />
      {opened !== undefined && (
        <Modal
          title={TITLES[opened]}
          onClose={() => {
            setOpened(undefined);
          }}
        >
          {contentOf(opened, hold, done)}
        </Modal>
      )}
    </div>
  );
}

interface ActionsProps {
  readonly hold: ExplainedHold;
  readonly open: (which: Opened) => () => void;
}

function MainActions({ hold, open }: ActionsProps) {
  const may = (action: 'dispose' | 'release' | 'assign') => actionOf(hold, action)?.allowed === true;
  const refusals = refusalsOf(hold);
  return (
    <>
      {may('release') && (
        <Button tone="main" onClick={open('release')}>
          Release it
        </Button>
      )}
      {may('dispose') && (
        <Button tone={may('release') || inForce(hold) !== undefined ? 'plain' : 'main'} onClick={open('dispose')}>
          {inForce(hold) === undefined ? 'Decide' : 'Decide anew'}
        </Button>
      )}
      {may('assign') && <Button onClick={open('assign')}>Give it to somebody</Button>}
      {refusals.size > 0 && (
        <dl className="hold-actions__whys">
          {[...refusals].map(([why, actions]) => (
            <div key={why}>
              <dt>You cannot {actions.map((action) => ACTS[action]).join(' or ')}</dt>
              <dd>{why}</dd>
            </div>
          ))}
        </dl>
      )}
      <HoldReleasers hold={hold} />
    </>
  );
}

const ACTS = { dispose: 'decide', release: 'release it', assign: 'give it to somebody' } as const;

function MoreActions({ hold, open }: ActionsProps) {
  const isApprover = useRole('approver');
  const signs = useRole('quality', 'approver');
  const mayConcede = isApprover && concedableOf(hold) !== null;
  const mayStrike = signs && hold.causes.length > 0;
  if (!mayConcede && !mayStrike) return null;
  return (
    <details className="hold-actions__more">
      <summary>
        {[
          ...(mayStrike ? ['Something was posted wrongly'] : []),
          ...(mayConcede ? ['The customer allows more'] : []),
        ].join(' · ')}
      </summary>
      {mayStrike && <Button onClick={open('strike')}>Strike the event</Button>}
      {mayConcede && <Button onClick={open('concession')}>Sign a concession</Button>}
    </details>
  );
}

function contentOf(opened: Opened, hold: ExplainedHold, done: (words: string) => () => void): ReactNode {
  const concedable = concedableOf(hold);
  switch (opened) {
    case 'dispose':
      return <ActDispose hold={hold} onDone={done('Signed. Somebody else must release it now.')} />;
    case 'release':
      return <ActRelease hold={hold} onDone={done('Released: work on it may go on.')} />;
    case 'assign':
      return <ActAssign hold={hold} onDone={done('Assigned.')} />;
    case 'strike':
      return <ActStrike hold={hold} />;
    case 'concession':
      return (
        concedable !== null && (
          <ActConcession hold={hold} concedable={concedable} onDone={done('Signed: it applies from now on.')} />
        )
      );
  }
}
