import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Modal } from '../kit/modal.js';
import { Refusal } from '../kit/refusal.js';

interface RevokeKeyModalProps {
  readonly station: string;
  readonly keyId: string;
  readonly onClose: () => void;
}

/** Asks before a key is revoked: it cannot be taken back. */
export function RevokeKeyModal({ station, keyId, onClose }: RevokeKeyModalProps) {
  const queries = useQueryClient();
  const revoke = useMutation({
    mutationFn: () =>
      dataOf(api.DELETE('/v1/stations/{station}/keys/{keyId}', { params: { path: { station, keyId } } })),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: keys.stationKeys(station) });
      onClose();
    },
  });
  return (
    <Modal title={`Revoke a key of ${station}?`} onClose={onClose}>
      <div className="form">
        <p>
          What is posted with key <span className="mono">{keyId}</span> is refused at once and for good; what came
          before stays. A revoked key cannot be brought back, but a new one can be issued.
        </p>
        <Refusal error={revoke.error} />
        <Button
          tone="stop"
          busy={revoke.isPending}
          onClick={() => {
            revoke.mutate();
          }}
        >
          Revoke it
        </Button>
      </div>
    </Modal>
  );
}
