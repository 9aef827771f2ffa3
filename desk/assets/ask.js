// One question at a time: those that come meanwhile wait in their order, and one about the same thing as the last
// takes its place. A question that nobody answered waits until the next is asked.

export const oneAtATime = (ask, about = () => "") => {
  const waiting = [];
  let running = null;
  const askAll = async () => {
    try {
      while (waiting.length) {
        const question = waiting.shift();
        if ((await ask(question)) === false) {
          waiting.unshift(question);
          return;
        }
      }
    } finally {
      running = null;
    }
  };
  const run = (question) => {
    if (waiting.length && about(waiting.at(-1)) === about(question)) waiting.pop();
    waiting.push(question);
    return run.answered();
  };
  // When nothing waits any longer, or nobody answers.
  run.answered = () => (running ??= waiting.length ? askAll() : null) ?? Promise.resolve();
  run.forget = () => waiting.splice(0);
  run.isWaiting = () => waiting.length > 0;
  run.isAsking = () => running !== null;
  return run;
};
