package crop

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// Match is every crop a person may mean by a word: an ID, a kind or an alias, letter case and
// plural aside. A crop whose ID or whole name is the word comes first, a person's own varieties of a
// kind after its types. A retired crop is meant by its ID only. When nothing matches, near holds up to
// three similar names.
func (c *Catalogue) Match(word string) (found []*Crop, near []string) {
	wanted := plainWords(word)
	if len(wanted) == 0 {
		return nil, nil
	}
	if one, ok := c.byID[strings.ToLower(strings.TrimSpace(word))]; ok && one.Retired {
		return []*Crop{one}, nil
	}
	phrase := strings.Join(wanted, " ")
	for _, each := range c.crops {
		if slices.Contains(phrases(each), phrase) {
			found = append(found, each)
		}
	}
	if len(found) == 0 {
		for _, each := range c.crops {
			if holdsAll(wordsOf(each), wanted) {
				found = append(found, each)
			}
		}
	}
	if len(found) == 0 {
		return nil, c.near(phrase)
	}
	slices.SortStableFunc(found, func(a, b *Crop) int {
		return cmp.Compare(rank(a, word, phrase), rank(b, word, phrase))
	})
	return found, nil
}

// rank puts the crop whose ID was typed first, then the one whose whole name was, then the types of the
// catalogue, then a person's own varieties of them.
func rank(c *Crop, word, phrase string) int {
	switch {
	case strings.EqualFold(c.ID, strings.TrimSpace(word)):
		return 0
	case strings.Join(plainWords(c.ID), " ") == phrase, strings.Join(plainWords(c.Name()), " ") == phrase:
		return 1
	case c.Base == "":
		return 2
	case strings.Join(plainWords(c.Type), " ") == phrase:
		return 1
	default:
		return 3
	}
}

// One is the crop a word means where only one can be meant; nil where it may be several, or none. The
// catalogue's type goes before a person's own varieties of it.
func (c *Catalogue) One(word string) *Crop {
	found, _ := c.Match(word)
	phrase := strings.Join(plainWords(word), " ")
	switch {
	case len(found) == 0, len(found) > 1 && rank(found[0], word, phrase) == rank(found[1], word, phrase):
		return nil
	}
	return found[0]
}

// names are what a person may call the crop, as shown to them.
func names(c *Crop) []string {
	all := append([]string{c.ID, c.Kind, c.Name()}, c.Aliases...)
	if c.Base != "" {
		all = append(all, c.Type)
	}
	return all
}

func phrases(c *Crop) []string {
	var all []string
	for _, name := range names(c) {
		all = append(all, strings.Join(plainWords(name), " "))
	}
	return all
}

func wordsOf(c *Crop) []string {
	var all []string
	for _, name := range names(c) {
		all = append(all, plainWords(name)...)
	}
	return all
}

func holdsAll(words, wanted []string) bool {
	for _, each := range wanted {
		if !slices.Contains(words, each) {
			return false
		}
	}
	return true
}

// near are up to three names that differ from the phrase by few letters.
func (c *Catalogue) near(phrase string) []string {
	var known []string
	for _, each := range c.crops {
		known = append(known, each.Kind)
		known = append(known, each.Aliases...)
		if each.Type != "" {
			known = append(known, each.ID)
		}
		if each.Base != "" {
			known = append(known, each.Type)
		}
	}
	return nearest(phrase, known, 3)
}

// nearest are the names closest to a word by edit distance, at most `most` of them, and none that
// differs in more than a third of its letters.
func nearest(word string, known []string, most int) []string {
	type candidate struct {
		name     string
		distance int
	}
	plainWord := strings.Join(plainWords(word), " ")
	var close []candidate
	seen := map[string]bool{}
	for _, name := range known {
		if seen[name] {
			continue
		}
		seen[name] = true
		plainName := strings.Join(plainWords(name), " ")
		allowed := max(1, max(len([]rune(plainWord)), len([]rune(plainName)))/3)
		if d := distance(plainWord, plainName); d <= allowed {
			close = append(close, candidate{name, d})
		}
	}
	slices.SortStableFunc(close, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), strings.Compare(a.name, b.name))
	})
	var names []string
	for _, each := range close[:min(most, len(close))] {
		names = append(names, each.name)
	}
	return names
}

// distance counts the letters put in, left out, changed or swapped with their neighbour between two
// words (optimal string alignment).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	const longest = 60 // no crop's name is longer; keeps a pasted page from costing time
	if len(x) > longest || len(y) > longest {
		return longest
	}
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			changed := 1
			if x[i-1] == y[j-1] {
				changed = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+changed)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}

// plainWords are the words of a name in small letters and the singular, without marks: "Bush
// Beans" and "bush-bean" are the same.
func plainWords(name string) []string {
	words := smallWords(name)
	for i, each := range words {
		words[i] = singular(each)
	}
	return words
}

// smallWords are the words of a name in small letters, without marks.
func smallWords(name string) []string {
	name = strings.ReplaceAll(strings.ToLower(name), "’", "'")
	fields := strings.FieldsFunc(name, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\''
	})
	var words []string
	for _, each := range fields {
		if each = unaccented.Replace(strings.ReplaceAll(each, "'", "")); each != "" {
			words = append(words, each)
		}
	}
	return words
}

var unaccented = strings.NewReplacer("â", "a", "à", "a", "á", "a", "é", "e", "è", "e", "ê", "e", "í", "i", "î", "i", "ó", "o", "ô", "o", "ú", "u", "ü", "u", "ñ", "n", "ç", "c")

// singular takes a plural ending off a word; good enough because both sides of a comparison go
// through it.
func singular(word string) string {
	word = strings.ToLower(word)
	switch {
	case len(word) <= 3:
		return word
	case strings.HasSuffix(word, "ies"):
		return word[:len(word)-3] + "y"
	case strings.HasSuffix(word, "oes"), strings.HasSuffix(word, "shes"), strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "sses"), strings.HasSuffix(word, "xes"):
		return word[:len(word)-2]
	case strings.HasSuffix(word, "aves"):
		return word[:len(word)-3] + "f"
	case strings.HasSuffix(word, "ss"), strings.HasSuffix(word, "us"), strings.HasSuffix(word, "is"):
		return word
	case strings.HasSuffix(word, "s"):
		return word[:len(word)-1]
	default:
		return word
	}
}
