import { seal } from '../../evidence/seal.js';
import { describeAttemptStore } from '../ports/attempt-store.contract.js';
import { IdentityUnderTest } from '../ports/identity.contract.js';
import { describePersonNames } from '../ports/person-names.contract.js';
import { describePersonStore } from '../ports/person-store.contract.js';
import { describeSessionStore } from '../ports/session-store.contract.js';
import { memoryIdentity } from './memory-identity.js';

function make(): Promise<IdentityUnderTest> {
  return Promise.resolve({ identity: memoryIdentity(), close: () => Promise.resolve() });
}

for (const describeStore of [describePersonStore, describeSessionStore, describeAttemptStore]) {
  describeStore('memory', make);
}
describePersonNames('memory', make, seal);
