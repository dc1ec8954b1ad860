import { Page } from '../kit/page.js';

export default function StationsPage() {
  return <Page title="Stations">{null}</Page>;
}
