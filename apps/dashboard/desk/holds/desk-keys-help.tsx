import { Modal } from '../kit/modal.js';
import { DESK_KEYS } from './desk-keys.js';

interface DeskKeysHelpProps {
  readonly picks: boolean;
  readonly onClose: () => void;
}

/** The keys of the list, in a dialog. */
export function DeskKeysHelp({ picks, onClose }: DeskKeysHelpProps) {
  return (
    <Modal title="Keys in the list of holds" onClose={onClose}>
      <p className="quiet">They work while the list has the keyboard: click it, or come to it by Tab.</p>
      <table className="rows">
        <thead>
          <tr>
            <th scope="col">Key</th>
            <th scope="col">What it does</th>
          </tr>
        </thead>
        <tbody>
          {DESK_KEYS.filter((key) => picks || key.picks === undefined).map(({ keys, does }) => (
            <tr key={does}>
              <th scope="row">
                {keys.map((key, n) => (
                  <span key={key}>
                    {n > 0 && ' or '}
                    <kbd className="mono">{key}</kbd>
                  </span>
                ))}
              </th>
              <td>{does}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Modal>
  );
}
