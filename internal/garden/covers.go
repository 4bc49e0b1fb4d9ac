package garden

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
)

// Has says whether the site has a cover.
func (s Site) Has(cover string) bool { return slices.Contains(s.Covers, cover) }

// unknownCover is the problem with a cover's ID or name that is none; nil when it is one.
func unknownCover(word string) *Problem {
	found, near := crop.FindProtection(word)
	if found != nil {
		return nil
	}
	return &Problem{Says: fmt.Sprintf("there is no cover %q", word), Remedy: didYouMean(near, "the covers are "+strings.Join(quotedNames(), ", "))}
}

// IsOpen says whether a word for what something is grown under means no cover.
func IsOpen(word string) bool {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case InTheOpen, "the open", "in the open", "nothing":
		return true
	}
	return false
}

func quotedNames() []string {
	names := crop.ProtectionNames()
	for i, n := range names {
		names[i] = quoted(n)
	}
	return names
}

// coverNames are the names of covers by their IDs; an ID of none stands for itself.
func coverNames(ids []string) []string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = id
		if p, _ := crop.FindProtection(id); p != nil {
			names[i] = p.Name
		}
	}
	return names
}

// covers reads a list of names of covers.
func (f *fields) covers(key string) (ids []string) {
	v, ok := f.want(key, optional, key+` = ["cloche", "row cover"]`, listKind)
	if !ok {
		return nil
	}
	for _, item := range v.items {
		if item.kind != textKind {
			f.complain(key, item.at, Problem{Says: fmt.Sprintf("%s holds %s, where the name of a cover is wanted", key, item.words()), Remedy: "write " + strings.Join(quotedNames(), ", ")})
			continue
		}
		if id := f.cover(key, item.at, item.text); id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// cover resolves the name of a cover.
func (f *fields) cover(key string, at spot, name string) string {
	if p := unknownCover(name); p != nil {
		f.complain(key, at, *p)
		return ""
	}
	found, _ := crop.FindProtection(name)
	return found.ID
}
