package main

import (
	"fmt"
	"strings"

	"kailyard/doc"
)

type sourcesCmd struct {
	Key string `arg:"" optional:"" help:"A source's key, as figures and reasons name it; default: all."`
}

func (sourcesCmd) example() string { return "kailyard sources HM54-UCSC" }

type sourceJSON struct {
	Key     string `json:"key"`
	Section string `json:"section"`
	Text    string `json:"text"`
}

// Run prints citations.
func (c *sourcesCmd) Run(e *env) error {
	list := []sourceJSON{}
	for _, s := range doc.Sources() {
		if c.Key == "" || strings.EqualFold(s.Key, c.Key) {
			list = append(list, sourceJSON{s.Key, s.Section, s.Text})
		}
	}
	if len(list) == 0 {
		return fmt.Errorf("no source has the key %q; `kailyard sources` lists all", c.Key)
	}
	if e.json {
		return e.printJSON(list)
	}
	for _, s := range list {
		e.printf("%s\n%s\n\n", s.Key, wrapped(s.Text, "  ", 92))
	}
	return nil
}
