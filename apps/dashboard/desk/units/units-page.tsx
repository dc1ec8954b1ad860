import { Page } from '../kit/page.js';

export default function UnitsPage() {
  return <Page title="Units">{null}</Page>;
}
