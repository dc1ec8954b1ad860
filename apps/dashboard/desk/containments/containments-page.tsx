import { Page } from '../kit/page.js';

export default function ContainmentsPage() {
  return <Page title="Containment">{null}</Page>;
}
