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
