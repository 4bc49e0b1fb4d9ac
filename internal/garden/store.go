package garden

import (
	"context"

	"kailyard/internal/civil"
)

// The store's interfaces, small so that a reader asks for no more than it needs. The garden book
// is the store on disk; tests use stores of their own.

// Teller tells the garden as it stands now.
type Teller interface {
	Garden(ctx context.Context) (Garden, error)
}

// Keeper keeps changes to the garden. A bed with a past is retired, not deleted.
type Keeper interface {
	SaveSite(ctx context.Context, site Site) error
	AddBed(ctx context.Context, bed Bed) (id int64, err error)
	SaveBed(ctx context.Context, bed Bed) error
	RemoveBed(ctx context.Context, id int64) error
	AddWant(ctx context.Context, want Want) (id int64, err error)
	SaveWant(ctx context.Context, want Want) error
	RemoveWant(ctx context.Context, id int64) error
	AddPast(ctx context.Context, past Past) (id int64, err error)
	RemovePast(ctx context.Context, id int64) error
	// Import replaces the description (site, beds, history, wants, what stands) in one step.
	Import(ctx context.Context, g Garden) error
}

// ShadeKeeper keeps what throws shade. Walls on a bed are refused; what is taken away is kept, marked.
type ShadeKeeper interface {
	AddShade(ctx context.Context, s Shade) (id int64, err error)
	SaveShade(ctx context.Context, s Shade) error
	RemoveShade(ctx context.Context, id int64) error
}

// VetoKeeper keeps what the person will not have.
type VetoKeeper interface {
	AddVeto(ctx context.Context, v Veto) (id int64, err error)
	RemoveVeto(ctx context.Context, id int64) error
}

// Journal is what happened: added to, never changed.
type Journal interface {
	Append(ctx context.Context, entry Entry) (id int64, err error)
	Journal(ctx context.Context, span civil.Span) ([]Entry, error)
}

// Tender marks how plantings come along.
type Tender interface {
	SetStatus(ctx context.Context, key string, status Status) error
	SetPinned(ctx context.Context, key string, pinned bool) error
}

// TestKeeper keeps soil tests: added to, never changed; one that was wrong is withdrawn. What was put
// on the ground is kept by Journal, and withdrawn by the ID of its entry.
type TestKeeper interface {
	AddTest(ctx context.Context, test SoilTest) (id int64, err error)
	WithdrawTest(ctx context.Context, id int64) error
	WithdrawTreatment(ctx context.Context, entry int64) error
}

// PackageKeeper keeps the sizes on sale.
type PackageKeeper interface {
	AddPackage(ctx context.Context, p Package) (id int64, err error)
	SavePackage(ctx context.Context, p Package) error
	RemovePackage(ctx context.Context, id int64) error
}

// HeapKeeper keeps compost heaps. SaveHeap changes all but the log, which is only added to.
type HeapKeeper interface {
	AddHeap(ctx context.Context, h Heap) (id int64, err error)
	SaveHeap(ctx context.Context, h Heap) error
	AppendHeap(ctx context.Context, heap int64, entry HeapEntry) error
	RemoveHeap(ctx context.Context, id int64) error
}
