// On a phone long sheets are folded: what stands below a heading opens when the heading is pressed.

export const isPhone = () => matchMedia("(max-width:40rem)").matches;

const ENDS = "h2,h3,aside,section,details";

export const foldParts = (box, isOpen = () => false) => {
  if (!isPhone()) return;
  for (const heading of box.querySelectorAll("h3")) {
    const details = document.createElement("details");
    details.className = "group";
    details.open = isOpen(heading.textContent);
    heading.replaceWith(details);
    const summary = document.createElement("summary");
    summary.append(heading);
    details.append(summary);
    while (details.nextElementSibling && !details.nextElementSibling.matches(ENDS)) details.append(details.nextElementSibling);
  }
};

// What was folded and is open, by its heading.
export const openParts = (box) => new Set([...box.querySelectorAll("details[open] > summary")].map((one) => one.textContent));
