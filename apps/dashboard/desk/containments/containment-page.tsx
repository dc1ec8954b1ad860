import { useQuery } from '@tanstack/react-query';
import { Link, useParams } from 'wouter';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Block, Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { nameIn, paths } from '../paths.js';
import { causeInWords } from './cause-wish.js';
import { ContainedUnits } from './contained-units.js';
import { ContainmentProgress } from './containment-progress.js';
import { ContainmentReaders } from './containment-readers.js';
import { ContainmentRounds } from './containment-rounds.js';
import { ContainmentState, heldInAll, isAtWork } from './containment-state.js';
import { RepeatContainment } from './repeat-containment.js';
import { useContainedHolds } from './use-contained-holds.js';
import './containments.css';

/** How often a containment that is at work is looked at. */
const WATCH_EVERY_MS = 1000;

/** One containment: how far it is, what it holds, and what it has missed since. */
export default function ContainmentPage() {
  return (
    <ContainmentReaders>
      <OneContainment />
    </ContainmentReaders>
  );
}

function OneContainment() {
  const { id = '' } = useParams();
  const containment = useQuery({
    queryKey: keys.containment(nameIn(id)),
    queryFn: () => dataOf(api.GET('/v1/containments/{id}', { params: { path: { id: nameIn(id) } } })),
    refetchInterval: ({ state: { data } }) => (data !== undefined && isAtWork(data) ? WATCH_EVERY_MS : false),
  });
  return (
    <Loaded query={containment} what="the containment">
      {(found) => (
        <Contained
          containment={found}
          atMs={containment.dataUpdatedAt}
          isLooking={containment.isFetching}
          lookAgain={() => void containment.refetch()}
        />
      )}
    </Loaded>
  );
}

interface ContainedProps {
  readonly containment: Schemas['ContainmentNow'];
  readonly atMs: number;
  readonly isLooking: boolean;
  readonly lookAgain: () => void;
}

function Contained({ containment, ...looking }: ContainedProps) {
  const { id, cause, rounds } = containment;
  const all = heldInAll(containment);
  const hasHeld = rounds.some(({ held }) => held !== null);
  return (
    <Page
      title={`Containment of ${causeInWords(cause)}`}
      over={<Link href={paths.containments}>Containment</Link>}
      beside={<ContainmentState of={containment} />}
    >
      <div className="containment-top">
        <Block title="What was contained">
          <ContainmentFacts containment={containment} />
        </Block>
        {!isAtWork(containment) && <RepeatContainment containment={containment} {...looking} />}
      </div>
      {hasHeld && <Holds id={id} rounds={rounds.length} all={all} />}
    </Page>
  );
}

function ContainmentFacts({ containment }: { readonly containment: Schemas['ContainmentNow'] }) {
  const { cause, state, progress, failure, holdCause, causeHolds, rounds, finishedAt } = containment;
  return (
    <>
      {isAtWork(containment) && <ContainmentProgress state={state} progress={progress} />}
      {failure !== null && (
        <p role="alert" className="form__error">
          {rounds.length > 1 ? 'The last round has failed, and nothing of it is in force: ' : 'Nothing is held by it: '}
          {failure}
        </p>
      )}
      <dl className="facts">
        <dt>Between</dt>
        <dd>
          <When at={cause.from} /> and <When at={cause.to} />
        </dd>
        <dt>In force since</dt>
        <dd>{finishedAt === null || state === 'failed' ? 'not in force' : <When at={finishedAt} />}</dd>
        <dt>The cause itself</dt>
        <dd>
          {causeHolds.map((hold) => (
            <Link key={hold} href={paths.hold(hold)}>
              on hold by it
            </Link>
          ))}
          {causeHolds.length === 0 && (holdCause ? 'is to be held as well' : 'was not to be held')}
        </dd>
        <ContainmentRounds rounds={rounds} />
      </dl>
    </>
  );
}

interface HoldsProps {
  readonly id: string;
  readonly rounds: number;
  readonly all: number;
}

function Holds({ id, rounds, all }: HoldsProps) {
  const holds = useContainedHolds(id);
  return (
    <Block
      title="What it holds or has held"
      {...(holds !== undefined && {
        beside: (
          <p className="containment-open">
            <strong>{holds.open}</strong> of {all} still held,{' '}
            <Link href={`${paths.holds}?${new URLSearchParams({ containment: id }).toString()}`}>
              see them on the desk
            </Link>
          </p>
        ),
      })}
    >
      <ContainedUnits id={id} holds={holds} rounds={rounds} all={all} />
    </Block>
  );
}
