import { Page } from '../kit/page.js';
import { useRole } from '../session/session-gate.js';
import { AccountsBlock } from './accounts-block.js';
import { DamageBlock } from './damage-block.js';
import { OperatorsBlock } from './operators-block.js';
import { OwnPassword } from './own-password.js';
import './people-page.css';

/** Who works here: what they damage, what they may do, and their accounts. A customer finds their own password here. */
export default function PeoplePage() {
  const ofHouse = useRole('operator', 'quality', 'approver', 'auditor', 'admin');
  const seesAccounts = useRole('admin', 'quality', 'auditor');
  return (
    <Page title={ofHouse ? 'People' : 'Your account'}>
      {ofHouse && (
        <>
          <DamageBlock />
          <OperatorsBlock />
        </>
      )}
      <div className="people-page__below">
        {seesAccounts && <AccountsBlock />}
        <OwnPassword />
      </div>
    </Page>
  );
}
