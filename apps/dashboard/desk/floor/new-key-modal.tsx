import { useRef, useState } from 'react';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Modal } from '../kit/modal.js';

interface NewKeyModalProps {
  readonly station: string;
  readonly issued: Schemas['NewKey'];
  readonly onClose: () => void;
}

/** Shows a new key, this once. */
export function NewKeyModal({ station, issued: { keyId, key }, onClose }: NewKeyModalProps) {
  const text = useRef<HTMLInputElement>(null);
  const [copied, setCopied] = useState<'not yet' | 'copied' | 'selected'>('not yet');
  const copy = async () => {
    text.current?.select();
    try {
      await navigator.clipboard.writeText(key);
      setCopied('copied');
    } catch {
      // Browsers give no clipboard to pages that come over plain HTTP from elsewhere.
      setCopied('selected');
    }
  };
  return (
    <Modal title={`New key of ${station}`} onClose={onClose}>
      <div className="form">
        <p>
          <strong>It is shown this once.</strong> Enter it at the station before you close this; whoever has it can post
          in the station’s name.
        </p>
        <Field label={`Key ${keyId}`}>
          <input ref={text} className="mono" readOnly value={key} />
        </Field>
        <Button tone="main" onClick={() => void copy()}>
          Copy
        </Button>
        <p role="status">
          {copied === 'copied' && 'Copied.'}
          {copied === 'selected' && 'Selected: copy it with the keyboard.'}
        </p>
      </div>
    </Modal>
  );
}
