import { LogWatcher } from '../ports/log-store.js';
import { SiteLogDeps } from './site-log-deps.js';

/** Something about the log that a person must see to. The message says what is wrong and what would mend it. */
export class LogTrouble extends Error {
  override readonly name = 'LogTrouble';
}

/** The same trouble is told again after this. */
const REPEAT_MS = 60_000;

/** Keeps what a watcher found, for whoever asks whether all is well, and tells the operator of trouble once a minute. */
export async function noteFinding(
  { siteLog, log, clock }: Pick<SiteLogDeps, 'siteLog' | 'log' | 'clock'>,
  watcher: LogWatcher,
  trouble: string | null,
): Promise<void> {
  const before = (await siteLog.findings()).find((finding) => finding.watcher === watcher);
  const at = clock.now();
  // All is well is written when it is news, and by the check, which is due a day after it has looked.
  const isNews = (before?.trouble ?? null) !== trouble;
  const isOld = before === undefined || Date.parse(at) - Date.parse(before.at) >= REPEAT_MS;
  if (!isNews && !(isOld && (trouble !== null || watcher === 'check'))) return;
  await siteLog.note({ watcher, at, trouble });
  if (trouble !== null) log.error(`The site-wide log: ${trouble}`);
  else if (isNews && before !== undefined) log.info('The site-wide log is in order again.');
}
