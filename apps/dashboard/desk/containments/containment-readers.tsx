import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { Page } from '../kit/page.js';
import { Empty } from '../kit/states.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';

/** Shows a page to who may read containments; others are told so, and nothing is asked for. */
export function ContainmentReaders({ children }: { readonly children: ReactNode }) {
  const mayRead = useRole('quality', 'approver', 'auditor', 'admin');
  if (mayRead) return children;
  return (
    <Page title="Containment">
      <Empty title="This is not for your role.">
        <p>
          Quality contains; approvers, auditors and admins read it. What is held is among the{' '}
          <Link href={paths.holds}>holds</Link>.
        </p>
      </Empty>
    </Page>
  );
}
