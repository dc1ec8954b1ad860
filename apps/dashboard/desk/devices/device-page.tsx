import { Page } from '../kit/page.js';

export default function DevicePage() {
  return <Page title="Device">{null}</Page>;
}
