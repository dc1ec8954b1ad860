import type { CheckJob } from './check-job.js';
import { runCheck } from './run-check.js';
import { reportParts, verdictOf } from './show-report.js';

const form = element('form', HTMLFormElement);
const drop = element('drop', HTMLElement);
const fileInput = element('file', HTMLInputElement);
const keyInput = element('key', HTMLInputElement);
const checkpointInput = element('checkpoint', HTMLTextAreaElement);
const checkpointFile = element('checkpoint-file', HTMLInputElement);
const proofInput = element('proof', HTMLTextAreaElement);
const checkButton = element('check', HTMLButtonElement);
const stopButton = element('stop', HTMLButtonElement);
const progress = element('progress', HTMLElement);
const elapsed = element('elapsed', HTMLElement);
const refusal = element('refusal', HTMLElement);
const said = element('said', HTMLElement);
const result = element('result', HTMLElement);

let running: AbortController | undefined;

element('save', HTMLElement).hidden = !location.protocol.startsWith('http');

fileInput.addEventListener('change', () => {
  refuse('');
});

// The checkpoint comes from one of two places: what was given last counts.
checkpointFile.addEventListener('change', () => {
  checkpointInput.value = '';
});
checkpointInput.addEventListener('input', () => {
  checkpointFile.value = '';
});

form.addEventListener('submit', (event) => {
  event.preventDefault();
  const file = fileInput.files?.[0];
  if (file) void check({ file, kept: whatWasKept() });
  else {
    refuse('Choose the audit or the archive first.');
    fileInput.focus();
  }
});

stopButton.addEventListener('click', () => {
  finish();
  said.textContent = 'Stopped.';
  checkButton.focus();
});

// A file may be dropped anywhere: a browser would otherwise leave the page and show it.
document.addEventListener('dragover', (event) => {
  event.preventDefault();
  drop.classList.add('over');
});
document.addEventListener('dragleave', (event) => {
  if (event.relatedTarget === null) drop.classList.remove('over');
});
document.addEventListener('drop', (event) => {
  event.preventDefault();
  drop.classList.remove('over');
  const files = event.dataTransfer?.files;
  if (!files || files.length === 0) return;
  fileInput.files = files;
  refuse('');
  checkButton.focus();
});

async function check(job: CheckJob): Promise<void> {
  finish();
  const stop = (running = new AbortController());
  begin(stop.signal);
  const answer = await runCheck(job, stop.signal);
  finish();
  if ('refusal' in answer) {
    refuse(answer.refusal);
    checkButton.focus();
    return;
  }
  result.replaceChildren(...reportParts(answer.result, job.file));
  result.hidden = false;
  said.textContent = verdictOf(answer.result.report);
  document.getElementById('verdict')?.focus();
}

function begin(stop: AbortSignal): void {
  refuse('');
  result.hidden = true;
  result.replaceChildren();
  checkButton.hidden = true;
  stopButton.hidden = false;
  progress.hidden = false;
  // Whoever pressed the other button is not left without focus.
  stopButton.focus();
  said.textContent = 'Checking.';
  const began = performance.now();
  const tick = (): void => {
    elapsed.textContent = `Checking, ${Math.floor((performance.now() - began) / 1000)} s`;
  };
  const timer = setInterval(tick, 1000);
  stop.addEventListener('abort', () => {
    clearInterval(timer);
  });
  tick();
}

/** Ends whatever runs. */
function finish(): void {
  running?.abort();
  running = undefined;
  checkButton.hidden = false;
  stopButton.hidden = true;
  progress.hidden = true;
  said.textContent = '';
}

function whatWasKept(): CheckJob['kept'] {
  const [key, proof, pasted] = [keyInput.value.trim(), proofInput.value.trim(), checkpointInput.value];
  const checkpoint = checkpointFile.files?.[0] ?? (pasted.trim() === '' ? undefined : asNote(pasted));
  return {
    ...(key !== '' && { key }),
    ...(checkpoint !== undefined && { checkpoint }),
    ...(proof !== '' && { proof }),
  };
}

/** What was pasted may have lost its last line end, or have got those of another system. */
function asNote(pasted: string): string {
  return `${pasted.replaceAll('\r\n', '\n').trim()}\n`;
}

function refuse(why: string): void {
  refusal.textContent = why;
}

function element<T extends HTMLElement>(id: string, type: new () => T): T {
  const found = document.getElementById(id);
  if (!(found instanceof type)) throw new Error(`The page has no ${id}: build it again.`);
  return found;
}
