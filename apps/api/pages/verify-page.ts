import { type BuiltPage, readBuiltPage } from './built-page.js';

/** The page that checks audits, as it was when the service started. */
export class VerifyPage {
  readonly built: BuiltPage | undefined;

  /** @param folder where the build put pages */
  constructor(folder: string) {
    this.built = readBuiltPage(folder, 'verify.html');
  }
}
