import { Page } from '../kit/page.js';

export default function SearchPage() {
  return <Page title="Search">{null}</Page>;
}
