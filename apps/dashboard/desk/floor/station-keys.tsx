import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { NewKeyModal } from './new-key-modal.js';
import { Refusal } from '../kit/refusal.js';
import { RevokeKeyModal } from './revoke-key-modal.js';
import { useStationKeys } from './station-queries.js';

/** The keys that the station posts with: which there are, a new one, and the end of one. */
export function StationKeys({ station }: { readonly station: string }) {
  const live = useStationKeys(station);
  const mayChange = useRole('admin');
  const [revoking, setRevoking] = useState<string | null>(null);
  const queries = useQueryClient();
  const issue = useMutation({
    mutationFn: () => dataOf(api.POST('/v1/stations/{station}/keys', { params: { path: { station } } })),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.stationKeys(station) }),
  });
  return (
    <Block title="Keys" note="A station has two at most: one in use, and one to change over to.">
      <Loaded query={live} what="its keys">
        {({ items }) =>
          items.length === 0 ? (
            <Empty title="It has no key.">
              <p>Whatever posts for it does so with a key of somebody else, or not at all.</p>
            </Empty>
          ) : (
            <table className="rows">
              <thead>
                <tr>
                  <th scope="col">Key</th>
                  <th scope="col">Issued</th>
                  {mayChange && <th scope="col">Action</th>}
                </tr>
              </thead>
              <tbody>
                {items.map(({ keyId, issuedAt }) => (
                  <tr key={keyId}>
                    <th scope="row" className="mono">
                      {keyId}
                    </th>
                    <td>
                      <When at={issuedAt} />
                    </td>
                    {mayChange && (
                      <td>
                        <Button
                          aria-label={`Revoke ${keyId}`}
                          onClick={() => {
                            setRevoking(keyId);
                          }}
                        >
                          Revoke
                        </Button>
                      </td>
                    )}
                  </tr>
                ))}
              </tbody>
            </table>
          )
        }
      </Loaded>
      {mayChange && (
        <p className="station-page__more">
          <Button
            busy={issue.isPending}
            onClick={() => {
              issue.mutate();
            }}
          >
            Issue a key
          </Button>
        </p>
      )}
      <Refusal error={issue.error} />
      {issue.data !== undefined && <NewKeyModal station={station} issued={issue.data} onClose={issue.reset} />}
      {revoking !== null && (
        <RevokeKeyModal
          station={station}
          keyId={revoking}
          onClose={() => {
            setRevoking(null);
          }}
        />
      )}
    </Block>
  );
}
