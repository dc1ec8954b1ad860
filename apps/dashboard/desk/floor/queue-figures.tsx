import { Loaded } from '../kit/states.js';
import { Ago } from '../kit/when.js';
import { useQueueNow } from './station-queries.js';

/** What has come in and is not in the book yet, of all stations. */
export function QueueFigures() {
  return (
    <Loaded query={useQueueNow()} what="the queue">
      {({ pending, oldestPendingAt, parked }) => (
        <dl className="queue-figures">
          <div>
            <dt>Events pending</dt>
            <dd>{pending}</dd>
          </div>
          <div>
            <dt>Oldest of them came</dt>
            <dd>{oldestPendingAt === null ? 'none waits' : <Ago at={oldestPendingAt} />}</dd>
          </div>
          <div>
            <dt>Events parked</dt>
            <dd>{parked}</dd>
          </div>
        </dl>
      )}
    </Loaded>
  );
}
