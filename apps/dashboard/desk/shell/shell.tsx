import type { ReactNode } from 'react';
import { LiveBadge } from '../live/live-badge.js';
import { ScanField } from './scan-field.js';
import { SessionMenu } from './session-menu.js';
import { Spine } from './spine.js';
import './shell.css';

/** What stands around every page: the sections on the spine of the book, the field for scans, who is at work, and whether it is live. */
export function Shell({ children }: { readonly children: ReactNode }) {
  return (
    <div className="shell">
      <a className="skip" href="#page">
        Skip to the page
      </a>
      <Spine />
      <div className="shell__main">
        <header className="shell__top">
          <ScanField />
          <LiveBadge />
          <SessionMenu />
        </header>
        <main id="page" className="shell__page" tabIndex={-1}>
          {children}
        </main>
      </div>
    </div>
  );
}
