import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { Page } from './page.js';
import { Empty } from './states.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';

interface HouseOnlyProps {
  readonly title: string;
  readonly children: ReactNode;
}

/** Shows a page to everyone of the house. A customer who comes to its address is told so once, and nothing is asked for. */
export function HouseOnly({ title, children }: HouseOnlyProps) {
  const ofHouse = useRole('operator', 'quality', 'approver', 'auditor', 'admin');
  if (ofHouse) return children;
  return (
    <Page title={title}>
      <Empty title="This is for the people of the house.">
        <p>
          It is about the work for all customers. Yours is under <Link href={paths.holds}>holds</Link> and{' '}
          <Link href={paths.units}>units</Link>.
        </p>
      </Empty>
    </Page>
  );
}
