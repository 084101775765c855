import js from '@eslint/js';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist/', 'out/', 'node_modules/', 'coverage/', 'notebooks/.*/', 'tests/fixtures/', '.tmp/'] },
  js.configs.recommended,
  {
    files: ['**/*.ts'],
    extends: [...tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      // noUncheckedIndexedAccess is on; typed-array loops with checked bounds say so with `!`.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/restrict-template-expressions': [
        'error',
        { allowNumber: true, allowBoolean: true },
      ],
      // Inferred typed-array returns turn into `any` for readers of our declarations on older compilers.
      '@typescript-eslint/explicit-module-boundary-types': 'error',
      // Spread of a long typed array as arguments overflows the stack.
      'prefer-spread': 'error',
    },
  },
  {
    files: ['**/*.js', '**/*.mjs'],
    languageOptions: {
      globals: { process: 'readonly', console: 'readonly', URL: 'readonly', performance: 'readonly' },
    },
  },
  { files: ['lib/**/*.ts'], rules: { 'no-console': 'error' } },
);
