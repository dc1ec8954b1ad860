import { Block } from '../kit/page.js';
import { Ledger } from './ledger.js';

interface UnitLedgerProps {
  readonly assembly: string;
  readonly serial: string;
}

/** The ledger of a board: all that was told and judged of it. */
export default function UnitLedger({ assembly, serial }: UnitLedgerProps) {
  return (
    <Block
      title="Ledger"
      note="Every entry that was ever made, in the order of the book. Nothing is edited: what was wrong is struck by a later entry, and both stay."
    >
      <Ledger key={`${assembly}/${serial}`} source={{ kind: 'unit', assembly, serial }} />
    </Block>
  );
}
