import { Link, useParams, useSearchParams } from 'wouter';
import { asProblem } from '../api/api-problem.js';
import { HouseOnly } from '../kit/house-only.js';
import { Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { limitWords } from '../words/words.js';
import { LimitFacts } from './limit-facts.js';
import { LimitHistory } from './limit-history.js';
import { useLimitRevisions } from './limit-queries.js';
import { limitKind } from './limit-words.js';
import { NewLimitPage } from './new-limit-page.js';
import { ReviseLimit } from './revise-limit.js';
import './limit-page.css';

/** One limit: what governs now, what did before, and another revision with what it would change. */
export default function LimitPage() {
  return (
    <HouseOnly title="Limit">
      <OneLimit />
    </HouseOnly>
  );
}

function OneLimit() {
  const { limit } = useParams<{ limit: string }>();
  const [params] = useSearchParams();
  const revisions = useLimitRevisions(limit);
  const newKind = limitKind(params.get('kind'));
  if (newKind !== undefined && revisions.isError && asProblem(revisions.error).status === 404) {
    return <NewLimitPage name={limit} kind={newKind} />;
  }
  const [newest] = revisions.data?.items ?? [];
  return (
    <Page
      title={newest === undefined ? limit : limitWords(newest.kind)}
      over={
        <>
          <Link href={paths.limits}>Limits</Link> / <span className="mono">{limit}</span>
        </>
      }
    >
      <Loaded query={revisions} what="the limit">
        {({ items }) => (
          <>
            <LimitFacts revisions={items} />
            {newest !== undefined && <ReviseLimit key={newest.revision} name={limit} now={newest} known />}
            <LimitHistory revisions={items} />
          </>
        )}
      </Loaded>
    </Page>
  );
}
