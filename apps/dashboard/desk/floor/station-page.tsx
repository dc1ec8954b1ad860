import { Page } from '../kit/page.js';

export default function StationPage() {
  return <Page title="Station">{null}</Page>;
}
