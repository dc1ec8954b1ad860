import { Page } from '../kit/page.js';

export default function PeoplePage() {
  return <Page title="People">{null}</Page>;
}
