import { Page } from '../kit/page.js';

export default function LimitPage() {
  return <Page title="Limit">{null}</Page>;
}
