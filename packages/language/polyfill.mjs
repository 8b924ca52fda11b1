// The parser library calls Object.groupBy, which Node 20 lacks.
Object.groupBy ??= (items, keyOf) => {
  const groups = Object.create(null);
  let index = 0;
  for (const item of items) {
    const key = keyOf(item, index++);
    if (!groups[key]) groups[key] = [];
    groups[key].push(item);
  }
  return groups;
};
