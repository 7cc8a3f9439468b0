/** The few functions of jstat that serve as a second opinion; the package brings no types. */
declare module 'jstat' {
  const jstat: {
    studentt: { inv(p: number, nu: number): number };
    chisquare: { inv(p: number, nu: number): number };
  };
  export default jstat;
}
