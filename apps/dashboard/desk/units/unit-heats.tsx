import { useMemo, useState } from 'react';
import { Block } from '../kit/page.js';
import { Empty, Failure, Waiting } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { HeatTable } from './heat-table.js';
import { HeatsOverlaid } from './heats-overlaid.js';
import { HEATS_OF_KIND, useHeatingEntries, useLaterWords } from './ledger-queries.js';
import { ledgerStory } from './ledger-story.js';
import { heatsToDraw, type ToldHeat, toldHeats } from './told-heats.js';
import { HOUSE } from './unit-queries.js';

interface UnitHeatsProps {
  readonly assembly: string;
  readonly serial: string;
}

/** The heats of a board: what each was judged to be, and their curves over each other. */
export default function UnitHeats({ assembly, serial }: UnitHeatsProps) {
  const source = useMemo(() => ({ kind: 'unit', assembly, serial }) as const, [assembly, serial]);
  const { entries, more, isPending, error } = useHeatingEntries(source);
  const later = useLaterWords(source);
  const heats = useMemo(() => toldHeats(ledgerStory(entries, later)), [entries, later]);
  return (
    <Block title="Heats" note="What each was judged to be. A reading counts from the solidus less the guard band on.">
      {error !== null && <Failure error={error} />}
      {isPending && <Waiting what="the heats" />}
      {heats.length > 0 && <ChosenHeats key={`${assembly}/${serial}`} source={source} heats={heats} />}
      {heats.length === 0 && !isPending && error === null && (
        <Empty title="No heat is told of here.">
          <p>A step that heats the board, a site or a device shows up as soon as its station has posted it.</p>
        </Empty>
      )}
      {more && (
        <p className="quiet">Of each kind of step the latest {HEATS_OF_KIND} are told; the ledger has them all.</p>
      )}
    </Block>
  );
}

/** Heats that are drawn when nobody has chosen, and at most. */
const FIRST = 3;
const MOST = 6;

interface ChosenHeatsProps {
  readonly source: { readonly kind: 'unit'; readonly assembly: string; readonly serial: string };
  readonly heats: readonly ToldHeat[];
}

function ChosenHeats({ source, heats }: ChosenHeatsProps) {
  const canDraw = useRole(...HOUSE);
  const [picked, setPicked] = useState<ReadonlySet<number>>();
  const drawn = useMemo(() => picked ?? heatsToDraw(heats, FIRST), [picked, heats]);
  const chosen = useMemo(() => heats.filter(({ seq }) => drawn.has(seq)), [heats, drawn]);
  return (
    <div className="heats">
      {canDraw ? (
        <HeatsOverlaid heats={chosen} />
      ) : (
        <p className="quiet">The curves are drawn in the PDF of the audit, among the downloads.</p>
      )}
      <HeatTable
        {...{ source, heats, drawn }}
        most={MOST}
        onPick={
          canDraw
            ? (seq) => {
                const next = new Set(drawn);
                if (!next.delete(seq)) next.add(seq);
                setPicked(next);
              }
            : undefined
        }
      />
    </div>
  );
}
