import { ArchiveRecord } from '../../ledger/archives/archive-record.js';

interface ReadmeFacts {
  readonly record: ArchiveRecord;
  readonly checkpoint: boolean;
  readonly census: boolean;
  /** Verifier key that the manifest is signed with; null where it is not signed. */
  readonly vkey: string | null;
}

/** What an archive says of itself to a person who has nothing but the archive. */
export function archiveReadme({ record, checkpoint, census, vkey }: ReadmeFacts): string {
  const { id, requestedAt, wanted, missing, owner } = record;
  const lines = [
    'HISTORIES OF REWORKED BOARDS',
    '',
    `Archive ${id}, asked for at ${requestedAt}.`,
    `Units asked for: ${String(wanted)}. Their histories are here: ${String(wanted - missing)}. Missing: ${String(missing)}.`,
    ...(missing === 0
      ? []
      : ['Missing are those that the book has not, or not for whoever asked to see. manifest.json names them.']),
    ...(owner.customer === null
      ? []
      : ['It was made for a customer: each history says under "audience" what it therefore leaves out.']),
    '',
    'WHAT IS HERE',
    '',
    'units/          the history of each unit; files that end in .audit.json are complete and can be checked',
    'traces/         temperature curves, where the histories name any, as they were uploaded',
    ...(checkpoint ? ['checkpoint.txt  newest signed state of the log that all histories are in; keep it'] : []),
    ...(census ? ['census.json     every unit of these assemblies in the newest census of the book'] : []),
    'manifest.json   every file here with its size and SHA-256, every unit with the number of its entries',
    vkey === null
      ? 'There is no manifest.jws: this house has no key to sign with. Nothing shows who made this archive.'
      : 'manifest.jws    the manifest, signed by the house',
    '',
    'HOW TO CHECK IT',
    '',
    'Without network or account, by the program heatbook:',
    '',
    '    heatbook verify ARCHIVE.zip',
    '',
    'or drop the file onto the page for checking that the house offers. By hand: every file must have the SHA-256 that',
    'manifest.json gives, and no other file may be here.',
    ...(vkey === null
      ? []
      : [
          '',
          'The manifest is signed with the key below. Get the key by another way than this archive, too:',
          '',
          `    ${vkey}`,
        ]),
    '',
    'An archive that was cut off does not open; one without its manifest is not whole.',
  ];
  return `${lines.join('\n')}\n`;
}
