import { useState } from 'react';
import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { Button } from '../kit/button.js';
import { Empty, Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { ANNULLED, eventKeyOf } from '../units/entry-parts.js';
import { HOUSE } from '../units/unit-queries.js';
import { HoldEntry } from './hold-entry.js';
import { causeSeqs, type LedgerSource, ledgersOf, streamOf, useEntriesAround, useStruck } from './hold-ledger.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-entries.css';

/** What its ledger tells before and after what called for the hold. */
export function HoldEntries({ hold }: { readonly hold: ExplainedHold }) {
  const ledgers = ledgersOf(hold, useRole(...HOUSE));
  const [chosen, setChosen] = useState(0);
  const source = ledgers[chosen] ?? ledgers[0];
  if (source === undefined) return null;
  return (
    <Block
      title="In the ledger, before and after"
      beside={
        <div className="hold-entries__which">
          {ledgers.length > 1 &&
            ledgers.map((one, n) => (
              <Button
                key={streamOf(one)}
                aria-pressed={one === source}
                onClick={() => {
                  setChosen(n);
                }}
              >
                {one.kind === 'device' ? `Of ${one.device}` : `Of ${one.assembly} / ${one.serial}`}
              </Button>
            ))}
          <Link href={wholeLedger(source)}>The whole ledger</Link>
        </div>
      }
    >
      <EntriesAround key={streamOf(source)} hold={hold} source={source} />
    </Block>
  );
}

function EntriesAround({ hold, source }: { readonly hold: ExplainedHold; readonly source: LedgerSource }) {
  const causes = causeSeqs(hold, source);
  const entries = useEntriesAround(source, causes.at(-1));
  const struck = useStruck(source).data;
  return (
    <Loaded query={entries} what="its ledger">
      {(around) =>
        around.length === 0 ? (
          <Empty title="Nothing is in this ledger yet.">
            <p>What was posted waits to be applied, or has been parked.</p>
          </Empty>
        ) : (
          <ol className="hold-entries">
            {around.map((entry) => (
              <HoldEntry
                key={entry.seq}
                entry={entry}
                isCause={causes.includes(entry.seq)}
                // What strikes an event bears its name too.
                struckBy={entry.type === ANNULLED ? undefined : struck?.get(eventKeyOf(entry.event))}
              />
            ))}
          </ol>
        )
      }
    </Loaded>
  );
}

function wholeLedger(source: LedgerSource): string {
  return source.kind === 'device'
    ? paths.device(source.device)
    : `${paths.unit(source.assembly, source.serial)}?part=ledger`;
}
