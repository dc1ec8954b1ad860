import { Link } from 'wouter';
import { Page } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { limitWords } from '../words/words.js';
import { useLimits } from './limit-queries.js';
import type { LimitKind } from './limit-words.js';
import { ReviseLimit } from './revise-limit.js';

interface NewLimitPageProps {
  readonly name: string;
  readonly kind: LimitKind;
}

/** A limit that is not there yet, begun with what the house's limit of its kind says. */
export function NewLimitPage({ name, kind }: NewLimitPageProps) {
  return (
    <Page
      title={`A new limit: ${limitWords(kind)}`}
      over={
        <>
          <Link href={paths.limits}>Limits</Link> / <span className="mono">{name}</span>
        </>
      }
    >
      <Loaded query={useLimits()} what="the limits">
        {({ pages }) => {
          const same = pages.flatMap(({ items }) => items).filter((limit) => limit.kind === kind);
          const model = same.find((limit) => limit.name === kind) ?? same[0];
          return model === undefined ? (
            <Empty title="There is no limit of this kind to begin from." />
          ) : (
            <ReviseLimit name={name} now={model} known={false} />
          );
        }}
      </Loaded>
    </Page>
  );
}
