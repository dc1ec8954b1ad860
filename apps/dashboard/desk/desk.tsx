import { QueryClientProvider } from '@tanstack/react-query';
import { Suspense } from 'react';
import { Router } from 'wouter';
import { deskQueries } from './api/desk-queries.js';
import { Waiting } from './kit/states.js';
import { LiveProvider } from './live/live-provider.js';
import { Pages } from './pages.js';
import { SessionGate } from './session/session-gate.js';
import { Shell } from './shell/shell.js';

/** The hold desk: signs people in, keeps what they see live, and shows the page that the address names. */
export function Desk() {
  return (
    <QueryClientProvider client={deskQueries}>
      <Router base="/desk">
        <SessionGate>
          <LiveProvider>
            <Shell>
              <Suspense fallback={<Waiting what="the page" />}>
                <Pages />
              </Suspense>
            </Shell>
          </LiveProvider>
        </SessionGate>
      </Router>
    </QueryClientProvider>
  );
}
