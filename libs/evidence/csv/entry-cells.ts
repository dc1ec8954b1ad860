import { memberOf } from '../../ledger/audits/member-of.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { canonicalJson } from '../canonical-json.js';

/** A cell: a text, a number as JSON writes it, or nothing. */
export type Cell = string | number | undefined;

/** What an entry says, a column each; what it does not say is left out. Lists are joined by `; `. */
export function entryCells(entry: SealedEntry): Readonly<Record<string, Cell>> {
  const { actor, data, effects } = entry;
  const heat = memberOf(data, 'heat');
  const target = memberOf(data, 'target');
  return {
    seq: entry.seq,
    time: entry.time,
    recordedAt: entry.recordedAt,
    type: entry.type,
    source: entry.event?.source,
    eventId: entry.event?.id,
    actorKind: textOf(memberOf(actor, 'kind')),
    actorName: textOf(memberOf(actor, 'station') ?? memberOf(actor, 'name')),
    operator: textOf(memberOf(actor, 'operator') ?? memberOf(data, 'operator')),
    refdes: textOf(memberOf(data, 'refdes') ?? memberOf(target, 'refdes')),
    device: textOf(memberOf(data, 'device') ?? memberOf(target, 'device')),
    method: textOf(memberOf(data, 'method') ?? memberOf(data, 'technique')),
    profile: profileOf(memberOf(data, 'profile')),
    peakC: highestPeakC(heat),
    heatStartedAt: textOf(memberOf(heat, 'startedAt') ?? memberOf(data, 'startedAt')),
    heatEndedAt: textOf(memberOf(heat, 'endedAt') ?? memberOf(data, 'endedAt')),
    result: textOf(memberOf(data, 'result')),
    defects: joined(listOf(memberOf(data, 'defects')).map(defectOf)),
    counted: joined(effects.map(countedOf)),
    holdsRaised: joined(effects.map(raisedOf)),
    warnings: joined(effects.map(warningOf)),
    note: textOf(memberOf(data, 'note')),
    data: canonicalJson(data),
    effects: canonicalJson(effects),
    rules: entry.rules,
    prevHash: entry.prevHash,
    hash: entry.hash,
  };
}

function profileOf(profile: unknown): Cell {
  const [name, revision] = [textOf(memberOf(profile, 'name')), textOf(memberOf(profile, 'revision'))];
  return name !== undefined && revision !== undefined ? `${name}@${revision}` : (name ?? textOf(profile));
}

function highestPeakC(heat: unknown): Cell {
  const peaks = listOf(memberOf(heat, 'thermocouples')).flatMap((one) => {
    const peakC = memberOf(one, 'peakC');
    return typeof peakC === 'number' ? [peakC] : [];
  });
  return peaks.length === 0 ? undefined : Math.max(...peaks);
}

function defectOf(defect: unknown): string | undefined {
  const code = textOf(memberOf(defect, 'code'));
  const pads = listOf(memberOf(defect, 'pads')).flatMap((pad) => textOf(pad) ?? []);
  return code === undefined || pads.length === 0 ? code : `${code} (${pads.join(' ')})`;
}

/** Such as `site-excursions U7 +1 (measured)`. */
function countedOf(effect: unknown): string | undefined {
  if (memberOf(effect, 'kind') !== 'counted') return undefined;
  const basis = textOf(memberOf(memberOf(effect, 'count'), 'basis')) ?? 'unknown';
  return words(memberOf(effect, 'limit'), subjectWord(memberOf(effect, 'subject')), `+1 (${basis})`);
}

function raisedOf(effect: unknown): string | undefined {
  if (memberOf(effect, 'kind') !== 'hold-raised') return undefined;
  return words(memberOf(effect, 'reason'), subjectWord(memberOf(effect, 'subject')));
}

function warningOf(effect: unknown): string | undefined {
  if (memberOf(effect, 'kind') !== 'warned') return undefined;
  return words(memberOf(effect, 'code'), subjectWord(memberOf(effect, 'subject')));
}

/** A site by its refdes, a device by its name; the unit needs none, since it is the ledger's. */
function subjectWord(subject: unknown): unknown {
  return memberOf(subject, 'refdes') ?? memberOf(subject, 'device');
}

function words(...all: readonly unknown[]): string {
  return all.flatMap((word) => textOf(word) ?? []).join(' ');
}

function joined(all: readonly (string | undefined)[]): Cell {
  const said = all.filter((one) => one !== undefined);
  return said.length === 0 ? undefined : said.join('; ');
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function textOf(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}
