import { Page } from '../kit/page.js';

export default function ContainmentPage() {
  return <Page title="Containment">{null}</Page>;
}
