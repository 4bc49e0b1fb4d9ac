package garden

import "testing"

// Ground of more than 16 dS/m is strongly saline by the usual classes (2, 4, 8 and 16): a figure of 60 is doubted, one of 12 is not.
func TestSaltsBeyondWhatCropsBearAreDoubted(t *testing.T) {
	for salts, doubted := range map[float64]bool{12: false, 60: true} {
		ps := SoilTest{Date: 20000, Salts: &salts, SaltsBy: SaturatedPaste}.Validate()
		if ps.Err() != nil || len(ps.Doubts()) > 0 != doubted {
			t.Errorf("%v dS/m: %v", salts, ps)
		}
	}
}
