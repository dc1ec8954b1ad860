import { groupsOf, holdsInWords } from './desk-words.js';

interface DeskListEndProps {
  readonly known: number;
  readonly more: boolean;
  readonly total: number | undefined;
}

/** How much of the list there is, under it. */
export function DeskListEnd({ known, more, total }: DeskListEndProps) {
  if (!more) return <p className="desk-list__end">{holdsInWords(known)}, all of them listed</p>;
  return (
    <p className="desk-list__end">
      {groupsOf(known)} of {total === undefined ? 'more' : groupsOf(total)} fetched; the others come as you go on
    </p>
  );
}
