package plan

import (
	"fmt"
	"os"
	"testing"
)

func TestPrintWindows(t *testing.T) {
	id := os.Getenv("PRINT_WINDOWS")
	if id == "" {
		t.Skip("set PRINT_WINDOWS to a climate's ID to read the windows of the household's crops")
	}
	in := inClimate(t, id)
	for _, tb := range in.Tables {
		fmt.Println(tb.Option.Crop.ID, tb.Option.Crop.Methods[tb.Option.Method].Way, tb.Option.Crop.Practice.Succession, tb.Option.Crop.Harvest.StoreDays, tb.Option.Crop.Harvest.Yield)
		for _, w := range tb.Windows(in.Settings.Share) {
			s := tb.Summary(w.Best)
			fmt.Println("    ", w.Span, "best", w.Best.Short(), s.Success, w.Days, "last", s.Last, s.Yield, w.Opens.Says, w.Closes.Says)
		}
	}
}
