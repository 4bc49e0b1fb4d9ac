// The slider of the plot: chooses a day and asks for the page of that day. Without this script the
// date field and the links do the same.
"use strict";
(function () {
  var form = document.querySelector(".dayform");
  if (!form) return;
  var slide = document.getElementById("slide");
  var day = document.getElementById("day");
  slide.parentElement.hidden = false;
  var first = Number(form.dataset.first);
  function iso() {
    return new Date((first + Number(slide.value)) * 86400000).toISOString().slice(0, 10);
  }
  slide.addEventListener("input", function () {
    day.value = iso();
    slide.setAttribute("aria-valuetext", day.value);
  });
  slide.addEventListener("change", function () {
    day.value = iso();
    form.requestSubmit();
  });
})();

// What is wrong in a crop's text: the link of a line marks that line. Without this script it leads to
// the text.
(function () {
  var text = document.querySelector(".proof textarea");
  if (!text) return;
  document.querySelectorAll(".faults a[data-line]").forEach(function (link) {
    link.addEventListener("click", function (event) {
      event.preventDefault();
      var lines = text.value.split("\n");
      var n = Number(link.dataset.line) - 1;
      var from = lines.slice(0, n).join("\n").length + (n > 0 ? 1 : 0);
      text.focus();
      text.setSelectionRange(from, from + lines[n].length);
      text.scrollTop = Math.max(0, (n - 4) * (text.scrollHeight / lines.length));
    });
  });
})();

// A page that follows something under way: its parts are brought up to date while it stays open, and it is
// loaded again once that is over. Without this script it is loaded again every few seconds.
(function () {
  var live = document.querySelector("[data-live]");
  if (!live) return;
  var every = Number(live.dataset.live) * 1000;
  var lost = live.querySelector("[data-lost]");
  function later() {
    setTimeout(look, every);
  }
  function renew(next) {
    live.querySelectorAll("[data-part]").forEach(function (part) {
      var fresh = next.querySelector('[data-part="' + part.dataset.part + '"]');
      if (!fresh) return;
      if (part.tagName === "PROGRESS") {
        part.max = fresh.max;
        part.value = fresh.value;
      } else if (part.textContent !== fresh.textContent) {
        part.replaceChildren.apply(part, Array.from(fresh.childNodes));
      }
    });
  }
  function look() {
    fetch(location.href, { cache: "no-store" })
      .then(function (answer) {
        if (!answer.ok) throw new Error(answer.statusText);
        return answer.text();
      })
      .then(function (text) {
        var page = new DOMParser().parseFromString(text, "text/html");
        var next = page.querySelector("[data-live]");
        if (!next) {
          location.reload();
          return;
        }
        lost.hidden = true;
        document.title = page.title;
        renew(next);
        later();
      })
      .catch(function () {
        lost.hidden = false;
        later();
      });
  }
  later();
})();

// What throws shade can be dragged over the picture of the light: it is saved where it is let go, and the picture
// is drawn anew. Without this script its form does the same.
(function () {
  var now = document.getElementById("lightnow");
  if (!now) return;
  var held = null;
  function places(event) {
    var picture = now.querySelector("svg.lightpicture");
    var at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse());
    return { x: at.x, y: at.y };
  }
  function fault(says) {
    var line = now.querySelector(".lightfault");
    line.textContent = says;
    line.hidden = !says;
  }
  function take(event) {
    var link = event.target.closest('a[href^="/plot/shade/"]');
    if (!link || event.button !== 0) return;
    var id = link.getAttribute("href").split("/").pop();
    var told = document.querySelector('[data-shade="' + id + '"]');
    if (!told) return;
    event.preventDefault();
    held = { id: id, link: link, told: told, from: places(event), moved: false };
    link.setPointerCapture(event.pointerId);
  }
  function move(event) {
    if (!held) return;
    var at = places(event);
    held.dx = at.x - held.from.x;
    held.dy = at.y - held.from.y;
    if (Math.hypot(held.dx, held.dy) > 8) held.moved = true;
    if (held.moved) held.link.setAttribute("transform", "translate(" + held.dx + " " + held.dy + ")");
  }
  function drop() {
    if (!held) return;
    var was = held;
    held = null;
    if (!was.moved) return;
    was.link.addEventListener("click", function (event) { event.preventDefault(); }, { once: true, capture: true });
    var sent = new URLSearchParams();
    sent.set("x", (Number(was.told.dataset.x) + was.dx / 100).toFixed(2));
    sent.set("y", (Number(was.told.dataset.y) - was.dy / 100).toFixed(2));
    sent.set("month", now.dataset.month);
    fetch("/plot/shade/" + was.id + "/move", { method: "POST", body: sent })
      .then(function (answer) {
        return answer.text().then(function (text) {
          var page = new DOMParser().parseFromString(text, "text/html");
          var next = page.getElementById("lightnow");
          if (!answer.ok || !next) throw new Error((page.querySelector("main .lead") || {}).textContent || "It could not be moved.");
          now.replaceChildren.apply(now, Array.from(next.childNodes));
          var told = page.querySelector('[data-shade="' + was.id + '"]');
          if (told) was.told.replaceWith(told);
          ready();
        });
      })
      .catch(function (wrong) {
        was.link.removeAttribute("transform");
        fault(wrong.message);
      });
  }
  function ready() {
    var hint = now.querySelector(".draghint");
    if (hint) hint.hidden = !document.querySelector("[data-shade]");
  }
  now.addEventListener("pointerdown", take);
  now.addEventListener("dragstart", function (event) { event.preventDefault(); });
  now.addEventListener("pointermove", move);
  now.addEventListener("pointerup", drop);
  now.addEventListener("pointercancel", function () {
    if (held) held.link.removeAttribute("transform");
    held = null;
  });
  ready();
})();
