package garden

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"kailyard/internal/civil"
)

// An outline is a TOML text as a tree in which everything knows where it stands, so that a width
// of zero can be told with its line. The library checks the syntax; its parser's own tree gives
// the places.

// spot is a line and a column of a text, both from 1; columns count characters.
type spot struct{ line, column int }

// kind is what a value is, with the words for it.
type kind string

const (
	textKind  kind = "text in quotes"
	wholeKind kind = "a whole number"
	realKind  kind = "a number"
	truthKind kind = "true or false"
	dateKind  kind = "a date"
	timeKind  kind = "a time"
	listKind  kind = "a list"
	tableKind kind = "a table"
)

// value is one value.
type value struct {
	at    spot
	kind  kind
	text  string // of text; of other kinds as written
	whole int64
	real  float64
	truth bool
	date  civil.Date
	items []*value
	table *table
}

// table is keys with values, in the order of the text.
type table struct {
	at     spot
	keys   []string
	values map[string]*value
	keyAt  map[string]spot
	taken  map[string]bool // keys the reader has asked for
}

func newTable(at spot) *table {
	return &table{at: at, values: map[string]*value{}, keyAt: map[string]spot{}, taken: map[string]bool{}}
}

func (t *table) put(key string, at spot, v *value) {
	if _, there := t.values[key]; !there {
		t.keys = append(t.keys, key)
		t.keyAt[key] = at
	}
	t.values[key] = v
}

// syntaxError is where a text stops being TOML, and why.
type syntaxError struct {
	at   spot
	says string
}

func (e *syntaxError) Error() string { return e.says }

// outline reads a TOML text.
func outline(data []byte) (root *table, err error) {
	var anything map[string]any
	if err := toml.Unmarshal(data, &anything); err != nil {
		return nil, syntaxAt(data, err)
	}
	o := outliner{data: data}
	o.parser.Reset(data)
	root = newTable(spot{1, 1})
	current := root
	for o.parser.NextExpression() {
		n := o.parser.Expression()
		switch n.Kind {
		case unstable.Table:
			current = o.open(root, n, false)
		case unstable.ArrayTable:
			current = o.open(root, n, true)
		case unstable.KeyValue:
			o.keyValue(current, n)
		}
	}
	if err := o.parser.Error(); err != nil {
		return nil, syntaxAt(data, err)
	}
	return root, nil
}

func syntaxAt(data []byte, err error) error {
	var decode *toml.DecodeError
	if !errors.As(err, &decode) {
		return &syntaxError{spot{1, 1}, strings.TrimPrefix(err.Error(), "toml: ")}
	}
	row, column := decode.Position()
	at := spot{max(row, 1), max(column, 1)}
	lines := strings.Split(string(data), "\n")
	if at.line <= len(lines) { // the library counts bytes
		line := lines[at.line-1]
		at.column = utf8.RuneCountInString(line[:min(at.column-1, len(line))]) + 1
	}
	return &syntaxError{at, strings.TrimPrefix(decode.Error(), "toml: ")}
}

type outliner struct {
	data   []byte
	parser unstable.Parser
	offset int // where lines were counted up to,
	line   int // how many line ends there were,
	start  int // and where the line begins
}

// spot is where an offset lies. Offsets mostly grow, so lines are counted once.
func (o *outliner) spot(offset int) spot {
	if offset < o.offset {
		o.offset, o.line, o.start = 0, 0, 0
	}
	for ; o.offset < offset && o.offset < len(o.data); o.offset++ {
		if o.data[o.offset] == '\n' {
			o.line++
			o.start = o.offset + 1
		}
	}
	return spot{o.line + 1, utf8.RuneCount(o.data[o.start:min(max(offset, o.start), len(o.data))]) + 1}
}

// open is the table a header names.
func (o *outliner) open(root *table, n *unstable.Node, list bool) *table {
	t := root
	for it := n.Key(); it.Next(); {
		key := it.Node()
		at := o.spot(int(key.Raw.Offset))
		t = o.step(t, string(key.Data), at, list && it.IsLast())
	}
	return t
}

// step goes into the table under a key, or into the last of a list of them; add puts a new one on the list.
func (o *outliner) step(t *table, key string, at spot, add bool) *table {
	v, there := t.values[key]
	switch {
	case !there && add:
		v = &value{at: at, kind: listKind}
		t.put(key, at, v)
	case !there:
		v = &value{at: at, kind: tableKind, table: newTable(at)}
		t.put(key, at, v)
	}
	if v.kind != listKind {
		if v.table == nil { // cannot be in a text the library has taken
			v.table = newTable(at)
		}
		return v.table
	}
	if add || len(v.items) == 0 {
		v.items = append(v.items, &value{at: at, kind: tableKind, table: newTable(at)})
	}
	last := v.items[len(v.items)-1]
	if last.table == nil {
		last.table = newTable(at)
	}
	return last.table
}

// keyValue puts a value under its key, which may be dotted.
func (o *outliner) keyValue(t *table, n *unstable.Node) {
	for it := n.Key(); it.Next(); {
		key := it.Node()
		at := o.spot(int(key.Raw.Offset))
		if it.IsLast() {
			t.put(string(key.Data), at, o.value(n.Value(), at))
			return
		}
		t = o.step(t, string(key.Data), at, false)
	}
}

// value reads one value; near is its place where the parser gives none.
func (o *outliner) value(n *unstable.Node, near spot) *value {
	v := &value{at: near, text: string(n.Data)}
	if n.Raw.Length > 0 {
		v.at = o.spot(int(n.Raw.Offset))
	}
	switch n.Kind {
	case unstable.String:
		v.kind = textKind
	case unstable.Bool:
		v.kind, v.truth = truthKind, v.text == "true"
	case unstable.Integer:
		v.kind = wholeKind
		v.whole, _ = strconv.ParseInt(strings.ReplaceAll(v.text, "_", ""), 0, 64)
		v.real = float64(v.whole)
	case unstable.Float:
		v.kind = realKind
		v.real, _ = strconv.ParseFloat(strings.ReplaceAll(v.text, "_", ""), 64)
	case unstable.LocalDate:
		v.kind = dateKind
		if d, err := civil.Parse(v.text); err == nil {
			v.date = d
		}
	case unstable.Array:
		v.kind = listKind
		for it := n.Children(); it.Next(); {
			if it.Node().Kind != unstable.Comment {
				v.items = append(v.items, o.value(it.Node(), v.at))
			}
		}
	case unstable.InlineTable:
		v.kind, v.table = tableKind, newTable(v.at)
		for it := n.Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				o.keyValue(v.table, it.Node())
			}
		}
	default:
		v.kind = timeKind
	}
	return v
}

func (v *value) words() string {
	switch v.kind {
	case textKind:
		return fmt.Sprintf("the text %q", v.text)
	case listKind, tableKind:
		return string(v.kind)
	}
	return v.text
}
