package growth

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"hash/crc32"
	"math"
	"sync"
)

// Version is raised whenever a table of the same option and climate comes out otherwise than before: tables that were kept are then made
// anew. A test holds it to what tables come out as.
const Version = 2

// Digests name all that the tables of options are made from: the model's version, season, latitude, the weather of the days used, the
// crop's figures, the way of growing and the cover. Two tables of one digest are the same. Empty where an option cannot be written down.
func (c *Climate) Digests(options []Option) []string {
	names, climate := make([]string, len(options)), c.digest()
	for i, o := range options {
		crop := *o.Crop
		crop.Figures, crop.Note = nil, "" // where its values are from does not change them
		of, err := json.Marshal(struct {
			Version int
			Climate string
			Option  Option
		}{Version, climate, Option{&crop, o.Method, o.Protection}})
		if err == nil {
			sum := sha256.Sum256(of)
			names[i] = hex.EncodeToString(sum[:])
		}
	}
	return names
}

// digest names the climate.
func (c *Climate) digest() string {
	h := sha256.New()
	put := func(v any) { _ = binary.Write(h, binary.LittleEndian, v) } // a hash takes everything
	put([]int64{int64(c.Season.Start), int64(c.Season.Days), int64(c.days), int64(math.Float64bits(c.Latitude))})
	for _, y := range c.Years {
		put(int64(y))
	}
	put(c.low)
	put(c.high)
	return hex.EncodeToString(h.Sum(nil))
}

// sums are the running sums of development that options of one crop and cover share, made when they are first asked for.
type sums struct {
	once sync.Once
	make func() []float64
	all  []float64
}

func (s *sums) values() []float64 {
	s.once.Do(func() {
		if s.make != nil {
			s.all, s.make = s.make(), nil
		}
	})
	return s.all
}

// Restore is the tables of options from what Encode made of them; nil where there is nothing or it cannot be read.
func Restore(c *Climate, options []Option, bodies [][]byte) []*Table {
	tables := make([]*Table, len(options))
	type sumsKey struct {
		cover coverKey
		crop  any
	}
	climates, shared := map[coverKey]func() *preparation{}, map[sumsKey]*sums{}
	var each sync.WaitGroup
	for k, o := range options {
		if len(bodies[k]) == 0 {
			continue
		}
		cover := o.cover()
		prepared := once(climates, cover, func() func() *preparation {
			return sync.OnceValue(func() *preparation { return prepare(c.under(cover)) })
		})
		growing := once(shared, sumsKey{cover, o.Crop.Cardinal}, func() *sums {
			return &sums{make: func() []float64 { return (&preparation{c: prepared().c}).sumsOf(o.Crop.Cardinal) }}
		})
		t := &Table{Option: o, Climate: c, growing: growing}
		t.needs, _ = Requirement(o)
		each.Go(func() {
			if t.decode(bodies[k]) == nil {
				tables[k] = t
			}
		})
	}
	each.Wait()
	return tables
}

// Encode is the table in few bytes: days and years, then year by year and column by column how each start day differs from the one
// before, runs that do not differ as their length, and a checksum.
func (t *Table) Encode() []byte {
	years := len(t.Climate.Years)
	body := binary.AppendUvarint([]byte{Version}, uint64(t.Climate.Season.Days))
	body = binary.AppendUvarint(body, uint64(years))
	for y := range years {
		for column := range columns {
			same, was := uint64(0), int64(0)
			for start := range t.Climate.Season.Days {
				is := t.outcomes[start*years+y].column(column, start)
				if is == was {
					same++
					continue
				}
				body = binary.AppendUvarint(body, same)
				body = binary.AppendVarint(body, is-was)
				same, was = 0, is
			}
			body = binary.AppendUvarint(body, same)
		}
	}
	return binary.LittleEndian.AppendUint32(body, crc32.ChecksumIEEE(body))
}

var errUnreadable = errors.New("the kept table cannot be read")

// decode reads what Encode made.
func (t *Table) decode(body []byte) error {
	n := len(body) - 4
	if n < 3 || crc32.ChecksumIEEE(body[:n]) != binary.LittleEndian.Uint32(body[n:]) || body[0] != Version {
		return errUnreadable
	}
	rest, good := body[1:n], true
	uvarint := func() uint64 {
		v, k := binary.Uvarint(rest)
		if k <= 0 {
			good, rest = false, nil
			return 0
		}
		rest = rest[k:]
		return v
	}
	days, years := t.Climate.Season.Days, len(t.Climate.Years)
	if uvarint() != uint64(days) || uvarint() != uint64(years) {
		return errUnreadable
	}
	t.outcomes = make([]packed, days*years)
	for y := range years {
		for column := range columns {
			is := int64(0)
			for start := 0; start <= days; start++ {
				for same := uvarint(); same > 0 && start < days; same, start = same-1, start+1 {
					t.outcomes[start*years+y].set(column, start, is)
				}
				if !good {
					return errUnreadable
				}
				if start == days {
					break
				}
				v, k := binary.Varint(rest)
				if k <= 0 {
					return errUnreadable
				}
				rest = rest[k:]
				is += v
				t.outcomes[start*years+y].set(column, start, is)
			}
		}
	}
	if len(rest) > 0 || !good {
		return errUnreadable
	}
	return nil
}

// columns is how many figures an outcome has. The cause is the first of them: others are written by it.
const columns = 6

// column is one figure of an outcome. Days are counted from the season's start, so that they change little from one start day to the next.
func (p packed) column(which, start int) int64 {
	switch which {
	case 0:
		return int64(p.cause)
	case 1:
		return int64(p.waited)
	case 2:
		if p.emerge < 0 {
			return int64(p.emerge)
		}
		return int64(p.emerge) + int64(start)
	case 3:
		return p.counted(p.first, start)
	case 4:
		return p.counted(p.last, start)
	}
	return int64(p.yield)
}

func (p packed) counted(day int16, start int) int64 {
	if p.cause == ready {
		return int64(day) + int64(start)
	}
	return int64(day)
}

// set is the other way round.
func (p *packed) set(which, start int, v int64) {
	from := int64(0)
	if p.cause == ready {
		from = int64(start)
	}
	switch which {
	case 0:
		p.cause = cause(v)
	case 1:
		p.waited = uint8(v)
	case 2:
		if v >= 0 {
			v -= int64(start)
		}
		p.emerge = int16(v)
	case 3:
		p.first = int16(v - from)
	case 4:
		p.last = int16(v - from)
	case 5:
		p.yield = uint8(v)
	}
}
