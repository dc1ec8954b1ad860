import { Page } from '../kit/page.js';

export default function DeskPage() {
  return <Page title="Holds">{null}</Page>;
}
