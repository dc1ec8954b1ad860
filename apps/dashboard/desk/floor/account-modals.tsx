import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type ReactNode, type SyntheticEvent, useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Modal } from '../kit/modal.js';
import { type Account, accountBody, AccountFields } from './account-fields.js';
import { PasswordInput } from './password-input.js';
import { Refusal } from '../kit/refusal.js';

type Person = Schemas['Person'];

interface ModalProps {
  readonly onClose: () => void;
}

/** Makes an account. */
export function NewAccountModal({ onClose }: ModalProps) {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [account, setAccount] = useState<Account>({ printedName: '', roles: [] });
  const act = () => dataOf(api.POST('/v1/people', { body: { ...accountBody(account), name, password } }));
  return (
    <AccountForm title="A new account" action="Make it" act={act} onClose={onClose}>
      <Field label="Name" hint="An id such as q-17, not what the person is called: it stands in ledgers for ever.">
        <input
          required
          maxLength={64}
          pattern="[A-Za-z0-9._:\-]{1,64}"
          autoComplete="off"
          spellCheck={false}
          value={name}
          onChange={(event) => {
            setName(event.target.value);
          }}
        />
      </Field>
      <AccountFields account={account} onAccount={setAccount} />
      <PasswordInput
        label="Password"
        hint="12 to 256 characters. Have the person change it: until then you could sign in their place."
        autoComplete="new-password"
        value={password}
        onValue={setPassword}
      />
    </AccountForm>
  );
}

/** Changes all of an account but its name and password. */
export function ChangeAccountModal({ person, onClose }: ModalProps & { readonly person: Person }) {
  const { name, printedName, roles, customer, disabled } = person;
  const [account, setAccount] = useState<Account>({
    printedName,
    roles,
    disabled,
    ...(customer !== undefined && { customer }),
  });
  const act = () => dataOf(api.PUT('/v1/people/{name}', { params: { path: { name } }, body: accountBody(account) }));
  return (
    <AccountForm title={`The account ${name}`} action="Change it" act={act} onClose={onClose}>
      <p className="quiet">Other roles, another customer or disabling it end the person’s sessions.</p>
      <AccountFields account={account} onAccount={setAccount} />
    </AccountForm>
  );
}

/** Sets somebody’s password for them. */
export function SetPasswordModal({ person: { name }, onClose }: ModalProps & { readonly person: Person }) {
  const [password, setPassword] = useState('');
  const act = () => dataOf(api.POST('/v1/people/{name}/password', { params: { path: { name } }, body: { password } }));
  return (
    <AccountForm title={`A new password for ${name}`} action="Set it" act={act} onClose={onClose}>
      <p>
        It ends their sessions and any lock-out. That it was set, and by whom, stays on record; until they change it,
        you could sign in their place.
      </p>
      <PasswordInput label="New password" autoComplete="new-password" value={password} onValue={setPassword} />
    </AccountForm>
  );
}

interface AccountFormProps extends ModalProps {
  readonly title: string;
  readonly action: string;
  readonly act: () => Promise<unknown>;
  readonly children: ReactNode;
}

/** A dialog that does one thing to an account, and shows in full where it is refused. */
function AccountForm({ title, action, act, onClose, children }: AccountFormProps) {
  const queries = useQueryClient();
  const change = useMutation({
    mutationFn: act,
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: keys.people });
      onClose();
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (!change.isPending) change.mutate();
  };
  return (
    <Modal title={title} onClose={onClose}>
      <form className="form" onSubmit={submit}>
        {children}
        <Refusal error={change.error} />
        <Button tone="main" type="submit" busy={change.isPending}>
          {action}
        </Button>
      </form>
    </Modal>
  );
}
