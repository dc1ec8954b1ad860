import { useInfiniteQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { Refusal } from '../kit/refusal.js';
import { Button } from '../kit/button.js';
import { Modal } from '../kit/modal.js';
import { Empty, Waiting } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { howManyInWords } from './contained-words.js';
import { ContainForm } from './contain-form.js';
import { DryRunItems } from './dry-run-items.js';
import { DryRunSums } from './dry-run-sums.js';

const PAGE = 100;

interface DryRunProps {
  readonly cause: Schemas['SuspectCauseBody'];
  /** Another one each time it is asked. */
  readonly n: number;
}

/** What a cause has touched, as the book stands when it is asked; nothing is held by it. */
export function DryRun({ cause, n }: DryRunProps) {
  const look = useInfiniteQuery({
    queryKey: ['dry-run', cause, n],
    queryFn: ({ pageParam }) => lookAt(cause, pageParam),
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    // What was looked at is what is signed for: it is looked at anew when somebody asks anew.
    staleTime: Infinity,
    gcTime: 0,
  });
  if (look.isPending) return <Waiting what="what it touched: every ledger is looked through" />;
  if (look.data === undefined) return <Refusal error={look.error} />;
  const [found] = look.data.pages;
  if (found === undefined) return null;
  if (found.units + found.devices === 0) {
    return (
      <Empty title="It touched nothing in that time.">
        <p>Look at the name and the times again: they are when things happened, not when they were posted.</p>
      </Empty>
    );
  }
  return (
    <section className="dry-run" aria-label="What it touched">
      <DryRunSums found={found} atMs={look.dataUpdatedAt} />
      <HoldThem found={found} cause={cause} />
      <DryRunItems items={look.data.pages.flatMap(({ items }) => items)} total={found.units + found.devices} />
      {look.hasNextPage && (
        <Button busy={look.isFetchingNextPage} onClick={() => void look.fetchNextPage()}>
          Show {PAGE} more
        </Button>
      )}
      <Refusal error={look.error} />
    </section>
  );
}

async function lookAt(cause: Schemas['SuspectCauseBody'], cursor: string | null): Promise<Schemas['DryRun']> {
  const query = { limit: PAGE, ...(cursor !== null && { cursor }) };
  const answer = await dataOf(api.POST('/v1/containments', { params: { query }, body: { cause, dryRun: true } }));
  if ('items' in answer) return answer;
  throw new Error('A dry run was answered as if it were an order.');
}

interface HoldThemProps {
  readonly found: Schemas['DryRun'];
  readonly cause: Schemas['SuspectCauseBody'];
}

function HoldThem({ found, cause }: HoldThemProps) {
  const [isSigning, setSigning] = useState(false);
  const mayContain = useRole('quality');
  const many = howManyInWords(found.units, found.devices);
  if (!mayContain) return null;
  return (
    <div>
      <Button
        tone="stop"
        onClick={() => {
          setSigning(true);
        }}
      >
        Hold these {many} …
      </Button>
      {isSigning && (
        <Modal
          title={`Hold ${many}`}
          onClose={() => {
            setSigning(false);
          }}
        >
          <ContainForm cause={cause} />
        </Modal>
      )}
    </div>
  );
}
