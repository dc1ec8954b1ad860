import type { UseQueryResult } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { asProblem } from '../api/api-problem.js';
import { Button } from './button.js';
import { clockTime } from './time-words.js';
import './states.css';

/** Something is being fetched. Shown with a short delay (by style), so that what comes at once does not flicker. */
export function Waiting({ what }: { readonly what: string }) {
  return (
    <div className="state state--waiting" role="status">
      <span className="state__bar" aria-hidden="true" />
      Fetching {what}
    </div>
  );
}

interface EmptyProps {
  readonly title: string;
  /** What it means, and what one could do. */
  readonly children?: ReactNode;
}

/** There is nothing to show, and that is an answer. */
export function Empty({ title, children }: EmptyProps) {
  return (
    <div className="state state--empty">
      <p className="state__title">{title}</p>
      {children}
    </div>
  );
}

interface FailureProps {
  readonly error: unknown;
  readonly retry?: () => void;
}

/** It could not be had: not allowed, not there, or no answer; each says what would mend it. */
export function Failure({ error, retry }: FailureProps) {
  const problem = asProblem(error);
  const kind = kindOf(problem.status);
  return (
    <div className={`state state--${kind}`} role="alert">
      <p className="state__title">{kind === 'forbidden' ? 'This is not for your role' : problem.title}</p>
      <p>{problem.detail}</p>
      {retry !== undefined && kind === 'failed' && <Button onClick={retry}>Try again</Button>}
    </div>
  );
}

function kindOf(status: number): 'forbidden' | 'missing' | 'failed' {
  if (status === 403) return 'forbidden';
  return status === 404 ? 'missing' : 'failed';
}

interface LoadedProps<Data> {
  readonly query: UseQueryResult<Data>;
  /** What is fetched, in words: "the hold". */
  readonly what: string;
  readonly children: (data: Data) => ReactNode;
}

/** Shows what a query has: waiting, failed, or its data; data that could not be renewed is shown and said to be old. */
export function Loaded<Data>({ query, what, children }: LoadedProps<Data>) {
  if (query.data === undefined) {
    if (query.isError) return <Failure error={query.error} retry={() => void query.refetch()} />;
    return <Waiting what={what} />;
  }
  return (
    <>
      {query.isError && (
        <p className="state__old" role="status">
          Not renewed since {clockTime(query.dataUpdatedAt)}: {asProblem(query.error).detail}
        </p>
      )}
      {children(query.data)}
    </>
  );
}
