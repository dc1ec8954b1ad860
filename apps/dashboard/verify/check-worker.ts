import { checkFile } from './check-file.js';
import type { CheckAnswer, CheckJob } from './check-job.js';

/** Checks away from the page, which stays alive meanwhile and can stop it. */
self.addEventListener('message', ({ data }: MessageEvent<CheckJob>) => {
  checkFile(data).then(answer, (error: unknown) => {
    answer({ refusal: `The check broke off: ${error instanceof Error ? error.message : String(error)}.` });
  });
});

function answer(message: CheckAnswer): void {
  self.postMessage(message);
}
