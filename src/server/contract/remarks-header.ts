/** What a person is told about a file that was made: a JSON array of sentences, percent-encoded (RFC 3986). */
export const remarksHeader = 'emberline-remarks';
