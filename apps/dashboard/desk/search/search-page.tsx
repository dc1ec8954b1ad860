import { useQuery } from '@tanstack/react-query';
import { Redirect, useSearchParams } from 'wouter';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Page } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { FoundList } from './found-list.js';
import { onlyPath } from './found-words.js';
import { NothingFound } from './nothing-found.js';

/** What a scanned or typed text means: leads on to the one thing that is named so, or shows what may be meant. */
export default function SearchPage() {
  const [params] = useSearchParams();
  const asked = (params.get('q') ?? '').trim();
  return (
    <Page title={asked === '' ? 'Search' : `Search: ${asked}`}>
      {asked === '' ? (
        <Empty title="Nothing was asked for.">
          <p>Scan a label, or type the beginning of a serial, a device or a station into the field above.</p>
        </Empty>
      ) : (
        <Finds key={asked} asked={asked} />
      )}
    </Page>
  );
}

function Finds({ asked }: { readonly asked: string }) {
  const found = useQuery({
    queryKey: keys.search(asked),
    queryFn: () => dataOf(api.GET('/v1/search', { params: { query: { q: asked } } })),
  });
  return (
    <Loaded query={found} what="what is named so">
      {({ items, truncated }) => {
        if (items.length === 0) return <NothingFound asked={asked} />;
        const path = onlyPath(items, asked);
        // The search takes no place in the history: going back leads to where one scanned.
        if (path !== undefined) return <Redirect to={path} replace />;
        return <FoundList items={items} truncated={truncated} />;
      }}
    </Loaded>
  );
}
