import { useInfiniteQuery } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { Block } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { ChangeAccountModal, NewAccountModal, SetPasswordModal } from './account-modals.js';

type Person = Schemas['Person'];

const ACCOUNT_ROWS = 100;

type Doing = { readonly what: 'new' } | { readonly what: 'change' | 'password'; readonly person: Person };

/** Who may sign in, in which roles. An admin makes and changes accounts here. */
export function AccountsBlock() {
  const mayChange = useRole('admin');
  const [doing, setDoing] = useState<Doing | null>(null);
  const people = useInfiniteQuery({
    queryKey: keys.people,
    queryFn: ({ pageParam }) => {
      const query = { limit: ACCOUNT_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/people', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
  });
  const newAccount = mayChange && (
    <Button
      onClick={() => {
        setDoing({ what: 'new' });
      }}
    >
      Make an account
    </Button>
  );
  return (
    <Block title="Accounts" beside={newAccount}>
      <Loaded query={people} what="the accounts">
        {({ pages }) => (
          <AccountRows
            people={pages.flatMap(({ items }) => items)}
            actions={mayChange ? (person) => <RowActions person={person} onDo={setDoing} /> : undefined}
          />
        )}
      </Loaded>
      {people.hasNextPage && (
        <Button busy={people.isFetchingNextPage} onClick={() => void people.fetchNextPage()}>
          Show more accounts
        </Button>
      )}
      <DoingModal
        doing={doing}
        onClose={() => {
          setDoing(null);
        }}
      />
    </Block>
  );
}

interface AccountRowsProps {
  readonly people: readonly Person[];
  readonly actions: ((person: Person) => ReactNode) | undefined;
}

function AccountRows({ people, actions }: AccountRowsProps) {
  return (
    <div className="scroll-x" role="region" aria-label="Accounts, one a row" tabIndex={0}>
      <table className="rows account-rows">
        <thead>
          <tr>
            <th scope="col">Account</th>
            <th scope="col">Printed name</th>
            <th scope="col">Roles</th>
            <th scope="col">Way in</th>
            <th scope="col">Changed</th>
            {actions !== undefined && <th scope="col">Actions</th>}
          </tr>
        </thead>
        <tbody>
          {people.map((person) => (
            <tr key={person.name}>
              <th scope="row" className="mono">
                {person.name}
              </th>
              <td>
                {person.printedName}
                {person.erased === true && <span className="quiet"> (name erased)</span>}
              </td>
              <td>
                {person.roles.join(', ')}
                {person.customer !== undefined && ` of ${person.customer}`}
              </td>
              <td>{person.disabled ? <Mark tone="stop">disabled</Mark> : 'open'}</td>
              <td>
                <When at={person.changedAt} />
              </td>
              {actions !== undefined && <td>{actions(person)}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function RowActions({ person, onDo }: { readonly person: Person; readonly onDo: (doing: Doing) => void }) {
  if (person.erased === true) return <span className="quiet">none: erased for good</span>;
  return (
    <div className="account-actions">
      <Button
        aria-label={`Change ${person.name}`}
        onClick={() => {
          onDo({ what: 'change', person });
        }}
      >
        Change
      </Button>
      <Button
        aria-label={`Set password of ${person.name}`}
        onClick={() => {
          onDo({ what: 'password', person });
        }}
      >
        Set password
      </Button>
    </div>
  );
}

function DoingModal({ doing, onClose }: { readonly doing: Doing | null; readonly onClose: () => void }) {
  if (doing === null) return null;
  if (doing.what === 'new') return <NewAccountModal onClose={onClose} />;
  if (doing.what === 'change') return <ChangeAccountModal person={doing.person} onClose={onClose} />;
  return <SetPasswordModal person={doing.person} onClose={onClose} />;
}
