import { setTimeout as delay } from 'node:timers/promises';
import { isBrokenOff, ServiceClient, ServiceRefused } from '../service/service-client.js';

const TRIES = 8;
const FIRST_PAUSE_MS = 250;
const LONGEST_PAUSE_MS = 10_000;

/** What came back, read. */
export interface Answer {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

/** Sends as a station does: again, unchanged, where the service is away or has too much to do. */
export class PatientClient {
  constructor(private readonly client: ServiceClient) {}

  /**
   * @returns any answer that would be the same another time
   * @throws ServiceRefused where there was none in eight tries, or the key is no good
   */
  async send(
    method: string,
    path: string,
    init: { readonly headers?: Record<string, string>; readonly body?: string },
  ): Promise<Answer> {
    for (let tries = 1; ; tries++) {
      const response = await this.client.send(method, path, init).catch((error: unknown) => {
        if (!isBrokenOff(error)) throw error;
      });
      if (response?.status === 401 || response?.status === 403) throw await this.client.refusal(response);
      const passing = response === undefined || response.status === 429 || response.status >= 500;
      if (!passing) return { status: response.status, body: (await response.json()) as Record<string, unknown> };
      if (tries === TRIES) {
        throw response === undefined
          ? new ServiceRefused(`nothing answers: set HEATBOOK_URL, or start it`)
          : await this.client.refusal(response);
      }
      await response?.body?.cancel();
      await delay(pauseMs(tries, response?.headers.get('retry-after') ?? null));
    }
  }
}

function pauseMs(tries: number, retryAfter: string | null): number {
  const asked = Number(retryAfter ?? 0) * 1000;
  return Math.min(LONGEST_PAUSE_MS, asked > 0 ? asked : FIRST_PAUSE_MS * 2 ** (tries - 1));
}
