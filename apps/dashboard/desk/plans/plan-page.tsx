import { Page } from '../kit/page.js';

export default function PlanPage() {
  return <Page title="Method plan">{null}</Page>;
}
