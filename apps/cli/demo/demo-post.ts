import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';

/** One event of a post, with the answer that intake should give to it. */
export type DemoItem =
  | { readonly expected: 'accepted' | 'duplicate'; readonly event: StationCloudEvent }
  | {
      readonly expected: 'rejected';
      /** 409: a known id with other content. 422: no such shape. */
      readonly status: 409 | 422;
      readonly event: Readonly<Record<string, unknown>>;
    };

/** One request of a station. A single has exactly one event. */
export interface DemoPost {
  readonly station: string;
  readonly body: 'single' | 'batch';
  readonly events: readonly DemoItem[];
}
