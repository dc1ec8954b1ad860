import { METHODS } from 'node:http';
import { Dice } from './dice.js';
import { FuzzRoute } from './document-routes.js';
import { NASTY_HEADERS, NASTY_SEGMENTS, NASTY_TEXTS, NASTY_TYPES, PATH_TRICKS } from './nasty-values.js';
import { RequestDraft } from './request-draft.js';
import { SPOILERS } from './spoiled-body.js';
import { BYTE_SPOILERS } from './spoiled-bytes.js';

const SENT_BY_HAND = METHODS.filter((method) => method !== 'CONNECT');
const AS_IT_IS = 0.05;
/** Of ways to spoil, when there is a body: the most can go wrong there. */
const ANYWHERE = ['address', 'address', 'query', 'query', 'header', 'method'];
const IN_BODY: readonly string[] = Array.from({ length: 10 }, () => 'body');
const ODD_NAMES = ['limit', 'cursor', 'extra', '__proto__', 'constructor', 'a[b]', 'a[]', ''];
const ODD_FIGURES = ['0', '-1', '501', '1.5', '1e3', '2', 'NaN', '99999999999999999999'];
const ODD_TAILS = ['&%', '&=&', '&a=%zz', '&a=%00', '&a=%ff', `&${'b=1&'.repeat(2000)}`];
/** Longer ones would make an address that is only too long. */
const QUERY_TEXTS = [...NASTY_TEXTS.filter((one) => one.length < 1000), ...ODD_FIGURES];

/**
 * Spoils a request in one way, or hardly ever in none.
 * @param value what its body was written from; undefined where it has none
 */
export function spoilRequest(draft: RequestDraft, value: unknown, route: FuzzRoute, dice: Dice): void {
  if (dice.chance(AS_IT_IS)) return;
  const way = dice.one(value === undefined ? ANYWHERE : [...ANYWHERE, ...IN_BODY]);
  if (way === 'address') spoilAddress(draft, dice);
  else if (way === 'query') spoilQuery(draft, route, dice);
  else if (way === 'header') spoilHeader(draft, dice);
  else if (way === 'body') spoilBody(draft, value, dice);
  else {
    draft.kind = 'method';
    draft.method = dice.one(SENT_BY_HAND);
  }
}

function spoilAddress(draft: RequestDraft, dice: Dice): void {
  const place = dice.below(draft.segments.length);
  const trick = dice.chance(0.5);
  draft.kind = `address: ${trick ? 'trick' : 'segment'}`;
  draft.segments[place] = trick ? `${draft.segments[place] ?? ''}${dice.one(PATH_TRICKS)}` : dice.one(NASTY_SEGMENTS);
}

function spoilQuery(draft: RequestDraft, { query }: FuzzRoute, dice: Dice): void {
  draft.kind = 'query';
  const name = dice.one([...query.map((one) => one.name), ...ODD_NAMES]);
  draft.query.push([name, dice.one(QUERY_TEXTS)]);
  if (dice.chance(0.2)) draft.query.push([name, 'again']);
  if (dice.chance(0.1)) draft.tail = dice.one(ODD_TAILS);
}

function spoilHeader(draft: RequestDraft, dice: Dice): void {
  draft.kind = 'header';
  Object.assign(draft.headers, dice.one(NASTY_HEADERS));
  if (!dice.chance(0.05)) return;
  draft.kind = 'header: many';
  for (let n = 0; n < 1_900; n += 1) draft.headers[`x-${String(n)}`] = '1';
}

function spoilBody(draft: RequestDraft, value: unknown, dice: Dice): void {
  const kind = dice.below(20);
  if (kind === 0) {
    draft.kind = 'body: media type';
    draft.headers['content-type'] = dice.one(NASTY_TYPES);
  } else if (kind < 4) {
    const [name, spoil] = dice.one(Object.entries(BYTE_SPOILERS));
    draft.kind = `body: ${name}`;
    const { body, headers } = spoil(draft.body?.toString('utf8') ?? '', dice);
    draft.body = body;
    Object.assign(draft.headers, headers);
  } else {
    const [name, spoil] = dice.one(Object.entries(SPOILERS));
    draft.kind = `body: ${name}`;
    draft.body = Buffer.from(spoil(value, dice));
  }
}
