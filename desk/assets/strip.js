// The drawing stays in view; once it stands at the edge it folds to a strip, and what is below keeps its place.

export const createStrip = (stage) => {
  const [top, box, below] = ["#stage-top", "#stage", "#stage-below"].map((one) => document.querySelector(one));
  const isStuck = () => getComputedStyle(box).position === "sticky";
  const isStrip = () => box.classList.contains("strip");
  const fold = (is) => {
    below.style.height = "";
    if (isStrip()) {
      box.classList.remove("strip");
      stage.fold(false);
    }
    if (is) {
      const whole = box.offsetHeight;
      box.classList.add("strip");
      stage.fold(true);
      below.style.height = `${whole - box.offsetHeight}px`;
    }
  };
  const fit = () => {
    const is = isStuck() && top.getBoundingClientRect().bottom < 0;
    if (is !== isStrip()) fold(is);
  };
  // What is scrolled to comes to lie below it; as long as it is whole, so high as it will be.
  const leaveRoom = () => {
    const high = isStrip() ? box.offsetHeight : 0.36 * innerHeight;
    document.documentElement.style.scrollPaddingTop = isStuck() ? `${high + 16}px` : "";
  };
  new IntersectionObserver(fit).observe(top);
  new ResizeObserver(leaveRoom).observe(box);
  addEventListener("tour", leaveRoom);
  addEventListener("resize", () => {
    if (isStrip()) fold(true);
    fit();
    leaveRoom();
  });
};
