// The fitting: play, stop, step, and go to any moment. Whoever asks for less motion sees it stand until they play it.
export function players(root) {
  for (const player of root.querySelectorAll("[data-player]")) if (!player.dataset.ready) ready(player);
}

function ready(player) {
  const svg = player.querySelector("svg");
  const moving = svg?.querySelector("animateTransform");
  if (!moving) return;
  player.dataset.ready = "1";
  const length = parseFloat(moving.getAttribute("dur"));
  const stops = moving.getAttribute("keyTimes").split(";").map(Number);
  const controls = player.querySelector(".controls");
  const play = button("Play");
  const back = button("Step back");
  const on = button("Step on");
  const bar = Object.assign(document.createElement("input"), { type: "range", min: 0, max: 1000, value: 0 });
  bar.setAttribute("aria-label", "Moment of the fitting");
  controls.append(play, back, on, bar);
  controls.hidden = false;
  const now = () => (svg.getCurrentTime() % length) / length;
  const go = (share) => { svg.setCurrentTime(share * length); bar.value = Math.round(share * 1000); };
  const stop = () => { svg.pauseAnimations(); play.textContent = "Play"; };
  const start = () => { svg.unpauseAnimations(); play.textContent = "Stop"; tick(); };
  const tick = () => { if (svg.animationsPaused() || !svg.isConnected) return; bar.value = Math.round(now() * 1000); requestAnimationFrame(tick); };
  play.addEventListener("click", () => (svg.animationsPaused() ? start() : stop()));
  on.addEventListener("click", () => { stop(); go(stops.find((s) => s > now() + 0.002 && s < 1) ?? 0); });
  back.addEventListener("click", () => { stop(); go(stops.findLast((s) => s < now() - 0.002) ?? 0); });
  bar.addEventListener("input", () => { stop(); go(bar.value / 1000); });
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) { stop(); go(0); } else start();
}

function button(words) {
  return Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: words });
}
