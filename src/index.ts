/** Emberline for TypeScript programs: the same calls that the commands make. */
export * from './remark/index.ts';
