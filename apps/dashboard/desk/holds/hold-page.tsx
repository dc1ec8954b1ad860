import { Page } from '../kit/page.js';

export default function HoldPage() {
  return <Page title="Hold">{null}</Page>;
}
