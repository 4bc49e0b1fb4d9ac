package season

import "kailyard/internal/growth"

// TableKeeper keeps growth tables between one season's computing and the next, by the digest of all they are made from. It is never
// needed: what it does not give is made, and what it does not take is made again.
type TableKeeper struct {
	Read func(digests []string) map[string][]byte // those it has
	Keep func(tables map[string][]byte)
}

// tables are the growth tables of options: those kept, and those made now, which are then kept.
func (k *TableKeeper) tables(c *growth.Climate, options []growth.Option) []*growth.Table {
	if k == nil {
		return growth.Tabulate(c, options)
	}
	digests, bodies := c.Digests(options), make([][]byte, len(options))
	kept := k.Read(digests)
	for i, digest := range digests {
		bodies[i] = kept[digest]
	}
	tables := growth.Restore(c, options, bodies)
	var missing []growth.Option
	var at []int
	for i, t := range tables {
		if t == nil {
			missing, at = append(missing, options[i]), append(at, i)
		}
	}
	if len(missing) == 0 {
		return tables
	}
	fresh := map[string][]byte{}
	for i, t := range growth.Tabulate(c, missing) {
		tables[at[i]] = t
		if digest := digests[at[i]]; digest != "" {
			fresh[digest] = t.Encode()
		}
	}
	k.Keep(fresh)
	return tables
}
