import { Link, useParams } from 'wouter';
import { Graveness, Mark } from '../kit/marks.js';
import { Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { reasonWords, stageWords } from '../words/words.js';
import { HoldComments } from './hold-comments.js';
import { HoldEntries } from './hold-entries.js';
import { HoldHeats } from './hold-heats.js';
import { useHold } from './hold-query.js';
import { HoldAround } from './hold-around.js';
import { HoldBroken } from './hold-broken.js';
import type { ExplainedHold } from './hold-shape.js';
import { HoldSide } from './hold-side.js';
import { HoldSigned } from './hold-signed.js';
import { HoldTop } from './hold-top.js';
import './hold-page.css';

/** One hold: what is held and why, what would resolve it and who acts next; then its story, and beside it what can be done. */
export default function HoldPage() {
  const { id = '' } = useParams();
  const query = useHold(id);
  const hold = query.data;
  return (
    <Page
      title={hold === undefined ? 'Hold' : reasonWords(hold.reason)}
      over={
        <>
          <Link href={paths.holds}>Holds</Link> / <span className="mono">{id.slice(0, 8)}</span>
        </>
      }
      beside={hold !== undefined && <HoldMarks hold={hold} />}
    >
      <Loaded query={query} what="the hold">
        {(found) => <HoldShown key={found.id} hold={found} />}
      </Loaded>
    </Page>
  );
}

function HoldMarks({ hold }: { readonly hold: ExplainedHold }) {
  const { stage, causeGone, overdue, graveness, state } = hold;
  return (
    <>
      {graveness !== undefined && <Graveness level={graveness} />}
      {state === 'open' ? (
        <>
          <Mark tone="stop">on hold</Mark>
          <Mark>{stageWords(stage).toLowerCase()}</Mark>
        </>
      ) : (
        <Mark tone="good">{state}</Mark>
      )}
      {overdue === true && <Mark tone="caution">overdue</Mark>}
      {causeGone && state === 'open' && <Mark tone="good">cause gone</Mark>}
    </>
  );
}

function HoldShown({ hold }: { readonly hold: ExplainedHold }) {
  return (
    <>
      <HoldTop hold={hold} />
      <div className="hold-page">
        <aside className="hold-page__side" aria-label="State and actions">
          <HoldSide hold={hold} />
        </aside>
        <div className="hold-page__story">
          <HoldBroken hold={hold} />
          <HoldHeats hold={hold} />
          <HoldSigned hold={hold} />
          <HoldComments hold={hold} />
          <HoldEntries hold={hold} />
          <HoldAround hold={hold} />
        </div>
      </div>
    </>
  );
}
