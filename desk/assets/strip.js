// The drawing stays in view: scrolled past, it folds to a strip at the edge, and what is below keeps its place.

export const createStrip = (stage) => {
  const [top, box, below] = ["#stage-top", "#stage", "#stage-below"].map((one) => document.querySelector(one));
  const roomy = matchMedia("(min-height:30rem)");
  let high = Math.round(0.36 * innerHeight);
  const isStrip = () => box.classList.contains("strip");
  const unfold = () => {
    if (!isStrip()) return;
    box.classList.remove("strip");
    below.style.height = "";
    stage.fold(false);
  };
  const fold = () => {
    const whole = box.offsetHeight;
    box.classList.add("strip");
    stage.fold(true);
    high = box.offsetHeight;
    below.style.height = `${Math.max(0, whole - high)}px`;
  };
  // It folds where no more of it is seen than the strip takes, so that nothing empty opens below.
  const fit = () => {
    const end = top.getBoundingClientRect().bottom + box.offsetHeight + (isStrip() ? below.offsetHeight : 0);
    if (isStrip() && (end > high + 8 || !roomy.matches)) unfold();
    else if (!isStrip() && roomy.matches && end < high) fold();
  };
  // What is scrolled to comes to lie below it.
  const leaveRoom = () => {
    if (isStrip()) high = box.offsetHeight;
    document.documentElement.style.scrollPaddingTop = roomy.matches ? `${high + 16}px` : "";
  };
  addEventListener("scroll", fit, { passive: true });
  new ResizeObserver(leaveRoom).observe(box);
  addEventListener("tour", leaveRoom);
  addEventListener("resize", () => {
    unfold();
    fit();
    leaveRoom();
  });
};
