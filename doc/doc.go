// Package doc is the documents that commands and pages quote: the sources behind every figure.
package doc

import (
	_ "embed"
	"regexp"
	"strings"
	"sync"
)

//go:embed SOURCES.md
var sources string

// Source is one cited work.
type Source struct {
	Key     string // as figures and reasons name it
	Section string // what it serves: "Weather", "Crops", …
	Text    string // citation, where it was read, licence or trust
}

var entry = regexp.MustCompile(`^- \*\*([^*]+)\*\* — (.+)$`)

// Sources are all cited works in the order of doc/SOURCES.md.
var Sources = sync.OnceValue(func() []Source {
	var list []Source
	section := ""
	for line := range strings.Lines(sources) {
		line = strings.TrimSpace(line)
		if title, ok := strings.CutPrefix(line, "## "); ok {
			section = title
		}
		if m := entry.FindStringSubmatch(line); m != nil {
			list = append(list, Source{Key: m[1], Section: section, Text: m[2]})
		}
	}
	return list
})

// Find is the source with a key.
func Find(key string) (Source, bool) {
	for _, s := range Sources() {
		if s.Key == key {
			return s, true
		}
	}
	return Source{}, false
}
