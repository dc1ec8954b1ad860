import { Injectable } from '@nestjs/common';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { Signer } from '../../../libs/ledger/signing/signature.js';
import { ProblemError } from '../http/problem.js';
import { PasswordDesk } from './password-desk.js';
import type { SignatureBody } from './signature-body.js';

/** Makes of whoever asks somebody who signs. */
@Injectable()
export class SigningDesk {
  constructor(private readonly passwords: PasswordDesk) {}

  /**
   * @throws ProblemError signature-required for a key, which is nobody's own; wrong-password, too-many-attempts, unavailable
   */
  async signer(caller: Principal, { password, meaning }: SignatureBody): Promise<Signer> {
    if (caller.via === 'key') {
      throw new ProblemError(
        'signature-required',
        'Only a person can sign, and a key is none: sign in with POST /v1/session and send the request with its cookie.',
      );
    }
    const { name, named, roles } = await this.passwords.confirm(caller.name, password);
    return { name, named, roles, meaning };
  }
}
