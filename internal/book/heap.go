package book

import (
	"context"
	"database/sql"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// AddHeap keeps a compost heap with what went in and its log so far, and gives its ID.
func (b *Book) AddHeap(ctx context.Context, h garden.Heap) (id int64, err error) {
	if err := append(h.Validate(), soil.CheckHeap(h)...).Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = b.addHeap(ctx, tx, h)
		return err
	})
	return id, err
}

// SaveHeap changes what is told of the heap with the given heap's ID: everything but its log.
func (b *Book) SaveHeap(ctx context.Context, h garden.Heap) error {
	h.Log = nil
	if err := append(h.Validate(), soil.CheckHeap(h)...).Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error { return saveHeap(ctx, tx, h) })
}

// AppendHeap adds to a heap's log what was done to it or seen of it.
func (b *Book) AppendHeap(ctx context.Context, heap int64, entry garden.HeapEntry) error {
	if err := entry.Validate().Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		all, err := heaps(ctx, tx)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(all, func(h garden.Heap) bool { return h.ID == heap })
		if at < 0 {
			return unknown("compost heap %d", heap)
		}
		if h := all[at]; entry.Date < h.Started {
			h.Log, h.Put = []garden.HeapEntry{entry}, nil
			return h.Validate().Err()
		}
		return b.appendHeap(ctx, tx, heap, entry)
	})
}

// RemoveHeap takes a heap out. The book keeps it, marked.
func (b *Book) RemoveHeap(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "UPDATE heap SET retired = 1 WHERE id = $1 AND NOT retired", id)
		if err == nil && !found {
			return unknown("compost heap %d", id)
		}
		return err
	})
}

func (b *Book) addHeap(ctx context.Context, tx *sql.Tx, h garden.Heap) (int64, error) {
	id, err := insert(ctx, tx, "INSERT INTO heap (position, name, started, emptied, note) VALUES ((SELECT coalesce(max(position), 0) + 1 FROM heap), $1, $2, $3, $4)",
		h.Name, h.Started.String(), dayOrNull(h.Emptied), h.Note)
	if err != nil {
		return 0, err
	}
	if err := putParts(ctx, tx, id, h.Put); err != nil {
		return 0, err
	}
	for _, e := range h.Log {
		if err := b.appendHeap(ctx, tx, id, e); err != nil {
			return 0, err
		}
	}
	return id, nil
}

func saveHeap(ctx context.Context, tx *sql.Tx, h garden.Heap) error {
	found, err := update(ctx, tx, "UPDATE heap SET name = $2, started = $3, emptied = $4, note = $5 WHERE id = $1 AND NOT retired",
		h.ID, h.Name, h.Started.String(), dayOrNull(h.Emptied), h.Note)
	if err == nil && !found {
		return unknown("compost heap %d", h.ID)
	}
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM heap_part WHERE heap_id = $1", h.ID); err != nil {
		return err
	}
	return putParts(ctx, tx, h.ID, h.Put)
}

func putParts(ctx context.Context, tx *sql.Tx, heap int64, parts []garden.HeapPart) error {
	for i, p := range parts {
		_, err := tx.ExecContext(ctx, "INSERT INTO heap_part (heap_id, position, feedstock, volume_l, moisture) VALUES ($1, $2, $3, $4, $5)",
			heap, i, p.Feedstock, float64(p.Volume), p.Moisture)
		if err != nil {
			return err
		}
	}
	return nil
}

func (b *Book) appendHeap(ctx context.Context, tx *sql.Tx, heap int64, e garden.HeapEntry) error {
	var warm any
	if e.Celsius != nil {
		warm = float64(*e.Celsius)
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO heap_log (heap_id, day, kind, celsius, text, written_at) VALUES ($1, $2, $3, $4, $5, $6)",
		heap, e.Date.String(), string(e.Kind), warm, e.Text, b.stamp())
	return err
}

// heaps are the compost heaps, the oldest telling first, each with its log by day.
func heaps(ctx context.Context, tx *sql.Tx) ([]garden.Heap, error) {
	all, err := each(ctx, tx, func(scan func(...any) error) (h garden.Heap, err error) {
		var started string
		var emptied sql.NullString
		if err = scan(&h.ID, &h.Name, &started, &emptied, &h.Note); err != nil {
			return h, err
		}
		if h.Started, err = civil.Parse(started); err != nil {
			return h, err
		}
		h.Emptied, err = dayOrNil(emptied)
		return h, err
	}, "SELECT id, name, started, emptied, note FROM heap WHERE NOT retired ORDER BY position, id")
	if err != nil {
		return nil, err
	}
	for i := range all {
		h := &all[i]
		h.Put, err = each(ctx, tx, func(scan func(...any) error) (p garden.HeapPart, err error) {
			err = scan(&p.Feedstock, &p.Volume, &p.Moisture)
			return p, err
		}, "SELECT feedstock, volume_l, moisture FROM heap_part WHERE heap_id = $1 ORDER BY position", h.ID)
		if err != nil {
			return nil, err
		}
		h.Log, err = each(ctx, tx, scanHeapEntry, "SELECT day, kind, celsius, text FROM heap_log WHERE heap_id = $1 ORDER BY day, id", h.ID)
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

func scanHeapEntry(scan func(...any) error) (e garden.HeapEntry, err error) {
	var day string
	var warm sql.NullFloat64
	if err = scan(&day, &e.Kind, &warm, &e.Text); err != nil {
		return e, err
	}
	if warm.Valid {
		c := quantity.Celsius(warm.Float64)
		e.Celsius = &c
	}
	e.Date, err = civil.Parse(day)
	return e, err
}

// takeHeaps adds a description's heaps. A heap of the same name and first day takes what is new of it.
func (b *Book) takeHeaps(ctx context.Context, tx *sql.Tx, described []garden.Heap) error {
	known, err := heaps(ctx, tx)
	if err != nil {
		return err
	}
	for _, h := range described {
		at := slices.IndexFunc(known, func(k garden.Heap) bool { return sameName(k.Name, h.Name) && k.Started == h.Started })
		if at < 0 {
			if _, err := b.addHeap(ctx, tx, h); err != nil {
				return err
			}
			continue
		}
		old := known[at]
		h.ID, known = old.ID, slices.Delete(known, at, at+1)
		if err := saveHeap(ctx, tx, h); err != nil {
			return err
		}
		for _, e := range h.Log {
			same := func(k garden.HeapEntry) bool {
				return k.Date == e.Date && k.Kind == e.Kind && k.Text == e.Text && sameValue(k.Celsius, e.Celsius)
			}
			if takeOut(&old.Log, same) {
				continue
			}
			if err := b.appendHeap(ctx, tx, h.ID, e); err != nil {
				return err
			}
		}
	}
	return nil
}
