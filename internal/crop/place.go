package crop

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// place is where a field stands in its file, both from 1.
type place struct{ line, column int }

// places finds every field of a TOML text that the decoder has already accepted: "spacing.in_row",
// and "method.2.days" for the second [[method]].
func places(text []byte) map[string]place {
	found := map[string]place{}
	count := map[string]int{}
	var parser unstable.Parser
	parser.Reset(text)
	table := ""
	for parser.NextExpression() {
		expression := parser.Expression()
		name, at := keyOf(&parser, expression)
		switch expression.Kind {
		case unstable.Table:
			table = name
			found[table] = at
		case unstable.ArrayTable:
			count[name]++
			table = fmt.Sprintf("%s.%d", name, count[name])
			found[table] = at
		case unstable.KeyValue:
			note(found, &parser, table, expression)
		}
	}
	return found
}

// note records a key and, inside an inline table, the keys below it.
func note(found map[string]place, parser *unstable.Parser, table string, pair *unstable.Node) {
	name, at := keyOf(parser, pair)
	if table != "" {
		name = table + "." + name
	}
	found[name] = at
	value := pair.Value()
	if value.Kind != unstable.InlineTable {
		return
	}
	for children := value.Children(); children.Next(); {
		if child := children.Node(); child.Kind == unstable.KeyValue {
			note(found, parser, name, child)
		}
	}
}

// keyOf is the dotted key of a table or a pair and where it starts.
func keyOf(parser *unstable.Parser, node *unstable.Node) (string, place) {
	var parts []string
	var at place
	for keys := node.Key(); keys.Next(); {
		key := keys.Node()
		if len(parts) == 0 {
			start := parser.Shape(key.Raw).Start
			at = place{start.Line, start.Column}
		}
		parts = append(parts, string(key.Data))
	}
	return strings.Join(parts, "."), at
}
