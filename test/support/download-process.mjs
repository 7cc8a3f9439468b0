/** Stands in for the process that makes documents: answers by the kind of the order. */
process.on('message', ({ folder, order }) => {
  if (order.kind === 'worked') process.exit(3);
  if (order.kind === 'trial') return;
  if (order.kind === 'figure') {
    process.send({
      kind: 'refused',
      problem: { kind: 'unfit', detail: 'No figure.', mend: 'Take another.' },
    });
    return;
  }
  if (order.kind === 'cooling') {
    process.send({ kind: 'nonsense' });
    return;
  }
  process.send({
    kind: 'made',
    file: {
      name: `${folder} ${process.pid}`,
      type: 'text/plain',
      bytes: new Uint8Array([0, 255, 10, 13]),
      remarks: ['a'],
    },
  });
});
process.on('disconnect', () => process.exit());
