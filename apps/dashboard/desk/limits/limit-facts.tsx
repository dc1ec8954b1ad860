import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { Empty } from '../kit/states.js';
import { useNow, When } from '../kit/when.js';
import { paths } from '../paths.js';
import { inForce, type LimitRecord } from './limit-queries.js';
import { actionWords, allowedWords, scopeWords } from './limit-words.js';
import { RecheckWords } from './recheck-words.js';

/** What governs now, and how far judging anew has come. @param revisions newest first */
export function LimitFacts({ revisions }: { readonly revisions: readonly LimitRecord[] }) {
  const nowMs = useNow();
  const limit = inForce(revisions, nowMs);
  const [newest] = revisions;
  return (
    <Block title="In force now">
      {limit === undefined ? (
        <Empty title="None of its revisions has taken effect yet." />
      ) : (
        <dl className="facts limit-facts">
          <dt>Allowed</dt>
          <dd>
            <strong>{allowedWords(limit.allowed, limit.unit)}</strong>
            {limit.countPossible === true && ', possible ones counted too'}
          </dd>
          <dt>For</dt>
          <dd>{scopeWords(limit.scope ?? {})}</dd>
          <dt>Beyond it</dt>
          <dd>
            <strong>{actionWords(limit.action)}</strong>
          </dd>
          <dt>Source</dt>
          <dd>{limit.source}</dd>
          <dt>Revision</dt>
          <dd>
            {limit.revision}, entered <When at={limit.at} /> by {limit.by}
          </dd>
        </dl>
      )}
      {newest !== undefined && (
        <p className="limit-facts__recheck" role="status">
          <strong>Judging anew by revision {newest.revision}:</strong> <RecheckWords recheck={newest.recheck} full />
          {newest.recheck.holdsRaised > 0 && (
            <>
              {'. '}
              <Link href={`${paths.holds}?${new URLSearchParams({ reason: newest.kind }).toString()}`}>
                Open holds for it
              </Link>
            </>
          )}
        </p>
      )}
    </Block>
  );
}
