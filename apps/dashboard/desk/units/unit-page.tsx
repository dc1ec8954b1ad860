import { Page } from '../kit/page.js';

export default function UnitPage() {
  return <Page title="Unit">{null}</Page>;
}
