import { IdentityStores } from './identity-stores.js';

export interface IdentityUnderTest {
  readonly identity: IdentityStores;
  close(): Promise<void>;
}

/** Gives stores without anybody in them each time. */
export type MakeIdentity = () => Promise<IdentityUnderTest>;

/** Fresh stores for every test of the describe block that calls this. */
export function useIdentity(make: MakeIdentity): () => IdentityStores {
  let made: IdentityUnderTest | undefined;
  beforeEach(async () => {
    made = await make();
  });
  afterEach(async () => {
    await made?.close();
    made = undefined;
  });
  return () => {
    if (made === undefined) throw new Error('no test is running');
    return made.identity;
  };
}
