/* Pointing at what the open step of a guided way names, and leading there where it is out of sight. */
import { coveredAbove } from "./presses.js";
import { $ } from "./room_requests.js";

const NO_SIGHT = "0px";
const leads = document.querySelectorAll("[data-lead]");
let wanted = null;
let watch = null;

/** Mark the button that comes last in the open step, of those in the newest message that has one, or the clock's. */
export const pointOut = (list, way) => {
  for (const old of list.querySelectorAll(".wanted")) {
    old.classList.remove("wanted");
  }
  const step = way?.steps.find((one) => !one.done && !one.skipped);
  const labels = step ? Array.from(step.text.matchAll(/\*\*(.+?)\*\*/g), (found) => found[1].replace(/ ?…$/, "")).reverse() : [];
  wanted = null;
  for (const message of Array.from(list.children).reverse()) {
    const buttons = Array.from(message.querySelectorAll("button.button:not([disabled])"));
    wanted = labels.map((label) => buttons.find((one) => one.textContent.trim().startsWith(label))).find(Boolean);
    if (wanted) {
      wanted.classList.add("wanted");
      break;
    }
  }
  for (const button of document.querySelectorAll("[data-to]")) {
    button.classList.toggle("wanted", !wanted && labels.includes(button.textContent));
  }
  offerTheWay();
  return wanted;
};

/** Offer to lead to the button as long as it is out of sight: below the bar, and above the clock at one's thumb. */
const offerTheWay = () => {
  watch?.disconnect();
  for (const lead of leads) {
    lead.hidden = !wanted;
  }
  if (wanted) {
    const covered = `-${coveredAbove()}px ${NO_SIGHT} -${$("thumb").offsetHeight}px ${NO_SIGHT}`;
    const seen = (changes) => leads.forEach((lead) => lead.classList.toggle("off", changes.at(-1).isIntersecting));
    watch = new IntersectionObserver(seen, { rootMargin: covered });
    watch.observe(wanted);
  }
};

for (const lead of leads) {
  lead.addEventListener("click", () => {
    wanted?.scrollIntoView({ block: "center" });
    wanted?.focus({ preventScroll: true });
  });
}
