/** The environment cannot be used as it is. The message holds one line per problem, each naming its variable. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';

  constructor(readonly problems: readonly string[]) {
    super(problems.join('\n'));
  }
}
