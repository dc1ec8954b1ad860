import { Page } from '../kit/page.js';

export default function LimitsPage() {
  return <Page title="Limits">{null}</Page>;
}
