import { type ReactNode, useEffect, useId, useRef } from 'react';
import { Button } from './button.js';
import './modal.css';

interface ModalProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

/** A dialog that holds the keyboard until it is closed; Escape closes it, and focus goes back to where it was. */
export function Modal({ title, onClose, children }: ModalProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    element?.showModal();
    return () => {
      element?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      className="modal"
      aria-labelledby={heading}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <header className="modal__head">
        <h2 id={heading}>{title}</h2>
        <Button tone="bare" onClick={onClose} aria-label="Close">
          Close
        </Button>
      </header>
      {children}
    </dialog>
  );
}
