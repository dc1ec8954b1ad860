import { Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { basisWords } from '../words/words.js';
import { useDevice } from './unit-queries.js';

/** The excursions of a device, each with the reading or the step that it was counted by, on whatever board. */
export function SiteHeats({ device }: { readonly device: string }) {
  const query = useDevice(device);
  return (
    <Loaded query={query} what="the device's excursions">
      {({ counted, possible }) => (
        <>
          {counted.length > 0 && (
            <ol>
              {counted.map(({ at, why, basis, event }) => (
                <li key={`${event.source} ${event.id}`}>
                  <When at={at} />: {why} ({basisWords(basis)})
                </li>
              ))}
            </ol>
          )}
          {possible.length > 0 && (
            <>
              <p>Possible, and not known:</p>
              <ul>
                {possible.map(({ at, why, event }) => (
                  <li key={`${event.source} ${event.id}`}>
                    <When at={at} />: {why}
                  </li>
                ))}
              </ul>
            </>
          )}
        </>
      )}
    </Loaded>
  );
}
