import reactHooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  {
    ignores: ['dist/', 'data/', 'coverage/', 'node_modules/', '*.cjs', '*.mjs', 'apps/dashboard/desk/api/schema.d.ts'],
  },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      // Nest modules are classes with nothing but a decorator.
      '@typescript-eslint/no-extraneous-class': ['error', { allowWithDecorator: true }],
      // Consistent type imports would erase the classes that Nest's metadata needs.
      '@typescript-eslint/consistent-type-imports': 'off',
    },
  },
  {
    files: ['apps/dashboard/**/*.tsx'],
    ...reactHooks.configs.flat.recommended,
    rules: {
      ...reactHooks.configs.flat.recommended.rules,
      // It is about the compiler that memoises, which the pages do without.
      'react-hooks/incompatible-library': 'off',
    },
  },
  {
    // The trade is pure: the same facts must give the same book on any machine, at any hour; so are invented days.
    files: ['libs/domain/**/*.ts', 'libs/simulator/**/*.ts'],
    ignores: ['**/*.spec.ts'],
    rules: {
      'no-restricted-globals': [
        'error',
        'process',
        'Buffer',
        'setTimeout',
        'setInterval',
        'fetch',
        'crypto',
        'performance',
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: 'Time is passed in.' },
        { object: 'Math', property: 'random', message: 'The fold must be repeatable.' },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'Time is passed in.' },
      ],
    },
  },
);
