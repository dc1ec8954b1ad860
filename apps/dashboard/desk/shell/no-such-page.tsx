import { Link } from 'wouter';
import { Empty } from '../kit/states.js';
import { Page } from '../kit/page.js';
import { paths } from '../paths.js';

export function NoSuchPage() {
  return (
    <Page title="No such page">
      <Empty title="Nothing has this address.">
        <p>
          Scan or type what you are looking for above, or go to the <Link href={paths.holds}>hold desk</Link>.
        </p>
      </Empty>
    </Page>
  );
}
