import { CLEARED_TYPES, ClearedType } from '../../../libs/domain/clearance/clearance.js';
import { nearestWord } from '../../../libs/ledger/intake/nearest-word.js';
import { UnusableInput } from '../service/unusable-input.js';

type Reading = (text: string) => unknown;

const text: Reading = (given) => given;

const figure: Reading = (given) => {
  const value = given === '' ? NaN : Number(given);
  if (!Number.isFinite(value)) throw new UnusableInput(`must be a number with a decimal point, but is "${given}"`);
  return value;
};

const flag: Reading = (given) => {
  if (given === 'true' || given === 'false') return given === 'true';
  throw new UnusableInput(`must be true or false, but is "${given}"`);
};

const profile: Reading = (given) => {
  const [name, revision, ...more] = given.split('@');
  if (!name || !revision || more.length > 0) {
    throw new UnusableInput(`must be a profile and its revision, such as U1-OFF@B, but is "${given}"`);
  }
  return { name, revision };
};

/** What may be said of a planned step, and how it is read. Whether it suits the step is for the service to say. */
const MEMBERS: Readonly<Record<string, Reading>> = {
  ...{ refdes: text, device: text, method: text, profile, fate: text, purpose: text, side: text, part: text },
  ...{ passes: figure, contactSeconds: figure, solderC: figure, flowing: flag, solderAlloy: text },
  ...{ ballAlloy: text, ballDiameterMm: figure, attach: text, pasteAlloy: text, pasteVolumeMm3: figure },
};

/**
 * Reads a planned step as it is written on a command line: its type, in full or without `heatbook.` and `.v1`, then members
 * as `name=value`, such as `device.removed refdes=U1 fate=scrap profile=U1-OFF@B`.
 * @throws UnusableInput that says what is wrong with it
 */
export function readStep(given: string): Readonly<Record<string, unknown>> {
  const [type = '', ...members] = given.trim().split(/\s+/);
  const step: Record<string, unknown> = { type: typeOf(type, given) };
  for (const member of members) {
    const cut = member.indexOf('=');
    const name = cut < 0 ? member : member.slice(0, cut);
    const read = Object.hasOwn(MEMBERS, name) ? MEMBERS[name] : undefined;
    if (cut < 0 || read === undefined) throw new UnusableInput(unknownMember(name, given));
    if (Object.hasOwn(step, name)) throw new UnusableInput(`Step "${given}": ${name} is there twice.`);
    step[name] = readMember(read, name, member.slice(cut + 1), given);
  }
  return step;
}

function typeOf(type: string, given: string): ClearedType {
  const found = CLEARED_TYPES.find((known) => known === type || shortOf(known) === type);
  if (found !== undefined) return found;
  const short = CLEARED_TYPES.map(shortOf);
  const nearest = nearestWord(type, short);
  const hint = nearest === undefined ? '' : ` Did you mean ${nearest}?`;
  throw new UnusableInput(`Step "${given}" must begin with one of ${short.join(', ')}.${hint}`);
}

function shortOf(type: ClearedType): string {
  return type.replace(/^heatbook\.|\.v1$/g, '');
}

function unknownMember(name: string, given: string): string {
  const names = Object.keys(MEMBERS);
  const nearest = nearestWord(name, names);
  const hint = nearest === undefined || nearest === name ? '' : ` Did you mean ${nearest}?`;
  return `Step "${given}": after the type come members as name=value, without spaces in them; "${name}" is none.${hint}\n  names: ${names.join(', ')}`;
}

function readMember(read: Reading, name: string, value: string, given: string): unknown {
  try {
    return read(value);
  } catch (error) {
    if (!(error instanceof UnusableInput)) throw error;
    throw new UnusableInput(`Step "${given}": ${name} ${error.message}.`);
  }
}
