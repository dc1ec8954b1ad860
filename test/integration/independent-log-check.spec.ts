import { signJws, parseJws } from '../../libs/evidence/log/jws.js';
import { newSigningKey, nodeSigner } from '../../libs/evidence/log/node-signer.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { LogSigner } from '../../libs/ledger/log/log-signer.js';
import { isConsistent, rootFromInclusion } from '../../libs/ledger/log/merkle/check-proofs.js';
import { leafHash, sameBytes } from '../../libs/ledger/log/merkle/hashing.js';
import { readerOf } from '../../libs/ledger/log/merkle/leaf-tree.js';
import { consistencyPath, inclusionPath, rootAt } from '../../libs/ledger/log/merkle/merkle-proofs.js';
import { checkNote } from '../../libs/ledger/log/notes/check-note.js';
import { checkpointText, parseCheckpoint } from '../../libs/ledger/log/notes/checkpoint.js';
import { signNote } from '../../libs/ledger/log/notes/signed-note.js';
import { parseVerifierKey, VerifierKey } from '../../libs/ledger/log/notes/verifier-key.js';
import {
  ClaimedEntry,
  joseAccepts,
  sigstoreAccepts,
  transmuteAcceptsConsistency,
  transmuteAcceptsInclusion,
} from '../support/independent-verifiers.js';
import { mulberry32 } from '../support/mulberry32.js';

const ORIGIN = 'heatbook/floor-2';
const LEAVES = 150;
const TAMPERED = 500;
const SEED = 20260302;

const sha256 = (bytes: Uint8Array) => nodeDigests.sha256(bytes);
const signer = nodeSigner(newSigningKey(), ORIGIN);
const key = keyOf(signer);
const stranger = nodeSigner(newSigningKey(), ORIGIN);

const data = Array.from({ length: LEAVES }, (_, at) => sha256(new TextEncoder().encode(`entry ${at}`)));
const hashes = data.map((bytes) => leafHash(sha256, bytes));
const read = readerOf(sha256, hashes);

/** Everything that our code made and a reader gets: a log now and as it was, an entry of it, and a signed statement. */
interface Evidence extends ClaimedEntry {
  readonly note: string;
  readonly from: number;
  readonly fromRoot: Uint8Array;
  readonly consistency: readonly Uint8Array[];
  readonly jws: string;
}

function keyOf({ vkey }: LogSigner): VerifierKey {
  const parsed = parseVerifierKey(vkey, sha256);
  if (!parsed) throw new Error(`${vkey} is no verifier key.`);
  return parsed;
}

async function evidence(size: number, index: number, from: number): Promise<Evidence> {
  const root = await rootAt(sha256, read, size);
  return {
    note: signed(checkpointText({ origin: ORIGIN, size, root }), signer),
    data: data[index] ?? new Uint8Array(),
    index,
    path: await inclusionPath(sha256, read, index, size),
    from,
    fromRoot: await rootAt(sha256, read, from),
    consistency: await consistencyPath(sha256, read, from, size),
    jws: signJws(new TextEncoder().encode(`{"count":${size}}`), signer.vkey, (message) => signer.sign(message)),
  };
}

function signed(text: string, by: LogSigner): string {
  return signNote(text, ORIGIN, keyOf(by).keyId, (message) => by.sign(message));
}

/** The checks of our own, as the verifier of an export makes them; sizes come from what was signed, never from a proof. */
async function ours(given: Evidence): Promise<boolean> {
  const note = await checkNote(given.note, [key], (...signature) => nodeDigests.verifyEd25519(...signature));
  const checkpoint = note && parseCheckpoint(note.text);
  const jws = parseJws(given.jws);
  if (checkpoint?.origin !== ORIGIN || jws?.header.kid !== signer.vkey) return false;
  const { size, root } = checkpoint;
  const leaf = leafHash(sha256, given.data);
  const found = rootFromInclusion(sha256, { index: given.index, size, leaf, path: given.path });
  const { from, fromRoot, consistency } = given;
  return (
    found !== undefined &&
    sameBytes(found, root) &&
    isConsistent(sha256, { from, to: size, fromRoot, toRoot: root, path: consistency }) &&
    (await nodeDigests.verifyEd25519(key.publicKey, jws.signingInput, jws.signature))
  );
}

/** The checks of other people's packages. */
async function theirs(given: Evidence): Promise<boolean> {
  if (!sigstoreAccepts(given.note, key, given)) return false;
  const checkpoint = parseCheckpoint(given.note.slice(0, given.note.indexOf('\n\n') + 1));
  if (!checkpoint) return false;
  const { size, root } = checkpoint;
  const { from, fromRoot, consistency } = given;
  return (
    (await transmuteAcceptsInclusion(root, size, given)) &&
    (await transmuteAcceptsConsistency({ from, to: size, fromRoot, toRoot: root, path: consistency })) &&
    (await joseAccepts(given.jws, key))
  );
}

type Pick = (below: number) => number;
type Tamper = (given: Evidence, pick: Pick) => Evidence;

const text = (given: Evidence) => given.note.slice(0, given.note.indexOf('\n\n') + 1);
const inText = (given: Evidence, change: (lines: string[]) => string[]) => {
  const changed = change(text(given).slice(0, -1).split('\n'));
  return { ...given, note: `${changed.join('\n')}\n${given.note.slice(text(given).length)}` };
};
const flipped = (bytes: Uint8Array, pick: Pick) => {
  const at = pick(bytes.length);
  return bytes.map((byte, place) => (place === at ? byte ^ (1 << pick(8)) : byte));
};
const flippedIn = (path: readonly Uint8Array[], pick: Pick) => {
  const at = pick(path.length);
  return path.map((hash, place) => (place === at ? flipped(hash, pick) : hash));
};
const swappedIn = (path: readonly Uint8Array[], pick: Pick) => {
  const at = pick(path.length - 1);
  return path.map((hash, place) => (place === at ? path[at + 1] : place === at + 1 ? path[at] : hash) ?? hash);
};
const inSignature = (given: Evidence, change: (bytes: Uint8Array) => Uint8Array) => ({
  ...given,
  note: given.note.replace(/(\S+)\n$/, (_line, encoded: string) => {
    return `${Buffer.from(change(Buffer.from(encoded, 'base64'))).toString('base64')}\n`;
  }),
});
const inJws = (given: Evidence, part: number, pick: Pick) => ({
  ...given,
  jws: given.jws
    .split('.')
    .map((piece, at) =>
      at === part ? Buffer.from(flipped(Buffer.from(piece, 'base64url'), pick)).toString('base64url') : piece,
    )
    .join('.'),
});

const TAMPERS: Record<string, Tamper> = {
  'another origin': (given) => inText(given, ([origin = '', ...rest]) => [`${origin}3`, ...rest]),
  'another size': (given, pick) =>
    inText(given, ([origin = '', size, ...rest]) => [origin, String(Number(size) + 1 + pick(9)), ...rest]),
  'another root': (given, pick) =>
    inText(given, ([origin = '', size = '', root = '']) => {
      return [origin, size, Buffer.from(flipped(Buffer.from(root, 'base64'), pick)).toString('base64')];
    }),
  'a line more': (given) => inText(given, (lines) => [...lines, 'more']),
  'another signature': (given, pick) =>
    inSignature(given, (bytes) => Buffer.concat([bytes.subarray(0, 4), flipped(bytes.subarray(4), pick)])),
  'another key id': (given, pick) =>
    inSignature(given, (bytes) => Buffer.concat([flipped(bytes.subarray(0, 4), pick), bytes.subarray(4)])),
  'another signer': (given) => ({ ...given, note: signed(text(given), stranger) }),
  'another name': (given) => ({ ...given, note: given.note.replace(`— ${ORIGIN} `, '— heatbook/floor-3 ') }),
  'another leaf': (given, pick) => ({ ...given, data: flipped(given.data, pick) }),
  'the entry before': (given) => ({ ...given, data: data[given.index - 1] ?? new Uint8Array() }),
  'another index': (given, pick) => ({ ...given, index: (given.index + 1 + pick(given.from - 1)) % (given.from + 1) }),
  'another hash on the path': (given, pick) => ({ ...given, path: flippedIn(given.path, pick) }),
  'the path in another order': (given, pick) => ({ ...given, path: swappedIn(given.path, pick) }),
  'a shorter path': (given) => ({ ...given, path: given.path.slice(0, -1) }),
  'a longer path': (given, pick) => ({ ...given, path: [...given.path, data[pick(LEAVES)] ?? new Uint8Array(32)] }),
  'another older root': (given, pick) => ({ ...given, fromRoot: flipped(given.fromRoot, pick) }),
  'another older size': (given) => ({ ...given, from: given.from - 1 }),
  'another hash of consistency': (given, pick) => ({ ...given, consistency: flippedIn(given.consistency, pick) }),
  'consistency in another order': (given, pick) => ({ ...given, consistency: swappedIn(given.consistency, pick) }),
  'shorter consistency': (given) => ({ ...given, consistency: given.consistency.slice(1) }),
  'longer consistency': (given, pick) => ({
    ...given,
    consistency: [...given.consistency, data[pick(LEAVES)] ?? new Uint8Array(32)],
  }),
  'another header of the JWS': (given, pick) => inJws(given, 0, pick),
  'another payload of the JWS': (given, pick) => inJws(given, 1, pick),
  'another signature of the JWS': (given, pick) => inJws(given, 2, pick),
  'a JWS by another key': (given) => ({
    ...given,
    jws: signJws(parseJws(given.jws)?.payload ?? new Uint8Array(), signer.vkey, (message) => stranger.sign(message)),
  }),
};

describe('what our log signs and proves', () => {
  it('is accepted by independent verifiers, at every size', async () => {
    for (let size = 2; size <= LEAVES; size++) {
      const given = await evidence(size, (size * 7) % size, 1 + ((size * 31) % (size - 1)));
      expect([size, await theirs(given), await ours(given)]).toEqual([size, true, true]);
    }
  });

  it('is accepted for every leaf and every older size of one log', async () => {
    for (let index = 0; index < 77; index++) {
      const given = await evidence(77, index, 1 + (index % 76));
      expect([index, await theirs(given), await ours(given)]).toEqual([index, true, true]);
    }
  });

  it(`is refused by them and by us when tampered with, ${TAMPERED} times (seed ${SEED})`, async () => {
    const random = mulberry32(SEED);
    const pick: Pick = (below) => Math.floor(random() * below);
    const kinds = Object.entries(TAMPERS);
    const accepted: string[] = [];
    for (let round = 0; round < TAMPERED; round++) {
      const [kind, tamper] = kinds[round % kinds.length] ?? ['', (given: Evidence) => given];
      const given = await tamperable(pick);
      if (!(await theirs(given)) || !(await ours(given)))
        accepted.push(`${round}: refused before it was tampered with`);
      const tampered = tamper(given, pick);
      if (await theirs(tampered)) accepted.push(`${round}, ${kind}: theirs`);
      if (await ours(tampered)) accepted.push(`${round}, ${kind}: ours`);
    }
    expect(accepted).toEqual([]);
    expect(kinds.length).toBeGreaterThanOrEqual(25);
  });
});

/** Evidence with paths long enough to be put in another order. */
async function tamperable(pick: Pick): Promise<Evidence> {
  const size = 20 + pick(LEAVES - 20);
  const from = 5 + pick(size - 8);
  const given = await evidence(size, 1 + pick(from - 1), from);
  return given.path.length > 1 && given.consistency.length > 1 ? given : tamperable(pick);
}
