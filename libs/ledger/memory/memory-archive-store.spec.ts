import { describeArchiveStore } from '../ports/archive-store.contract.js';
import { MemoryArchiveStore } from './memory-archive-store.js';

describeArchiveStore('memory', () =>
  Promise.resolve({ archives: new MemoryArchiveStore(), close: () => Promise.resolve() }),
);
