import { generateKeyPairSync } from 'node:crypto';
import { parseVerifierKey } from '../../ledger/log/notes/verifier-key.js';
import { nodeDigests } from '../node-digests.js';
import { newSigningKey, nodeSigner } from './node-signer.js';

describe('a signer from a key in PEM', () => {
  it('signs what its verifier key checks', async () => {
    const signer = nodeSigner(newSigningKey(), 'heatbook/floor');
    const key = parseVerifierKey(signer.vkey, (bytes) => nodeDigests.sha256(bytes));
    expect(key?.name).toBe('heatbook/floor');
    const [message, none] = [new TextEncoder().encode('checked'), new Uint8Array()];
    expect(await nodeDigests.verifyEd25519(key?.publicKey ?? none, message, signer.sign(message))).toBe(true);
    const other = nodeSigner(newSigningKey(), 'heatbook/floor');
    expect(await nodeDigests.verifyEd25519(key?.publicKey ?? none, message, other.sign(message))).toBe(false);
  });

  it('says what is wrong with a key, and not what is in it', () => {
    const other = generateKeyPairSync('ec', { namedCurve: 'P-256' });
    const pem = other.privateKey.export({ type: 'pkcs8', format: 'pem' }).toString();
    expect(() => nodeSigner(pem, 'a')).toThrow('of type ec, not Ed25519: make one with');
    expect(() => nodeSigner('my secret', 'a')).toThrow(/^The signing key is no private key in PEM.*openssl/);
    expect(() => nodeSigner(newSigningKey(), 'a b')).toThrow('cannot be called');
  });

  it('takes nothing for a signature that is none', async () => {
    const bytes = (length: number) => new Uint8Array(length);
    expect(await nodeDigests.verifyEd25519(bytes(31), bytes(1), bytes(64))).toBe(false);
    expect(await nodeDigests.verifyEd25519(bytes(32), bytes(1), bytes(63))).toBe(false);
    expect(await nodeDigests.verifyEd25519(bytes(32).fill(255), bytes(1), bytes(64))).toBe(false);
  });
});
