package growth

// never is the index of a day that does not come.
const never = int16(32767)

// nextRunEnd fills, for each day, the day that completes the first run of length days, all at or after
// it, for which is holds.
func nextRunEnd(next []int16, length int, is func(i int) bool) {
	length = max(length, 1)
	found, run := never, 0
	for i := len(next) - 1; i >= 0; i-- {
		if is(i) {
			run++
		} else {
			run = 0
		}
		if run >= length {
			found = int16(i + length - 1)
		}
		next[i] = found
	}
}

// nextSum fills, for each day, the first day by which the amounts of at most width days that follow one another,
// none before the day, have summed to 1. The amounts are given as their running sums.
func nextSum(next []int16, width int, sums []float64) {
	found := never
	for i := len(next) - 1; i >= 0; i-- {
		if sums[i+1] > sums[i] {
			for k := i; k < min(i+width, len(next)) && int16(k) < found; k++ {
				if sums[k+1]-sums[i] >= 1-1e-9 {
					found = int16(k)
				}
			}
		}
		next[i] = found
	}
}

// nextRunStart fills, for each day, the first day of the first such run.
func nextRunStart(next []int16, length int, is func(i int) bool) {
	nextRunEnd(next, length, is)
	for i, end := range next {
		if end != never {
			next[i] = end - int16(max(length, 1)) + 1
		}
	}
}

// lowestAhead fills, for each day, the lowest of the values of the day and the width−1 days after it.
func lowestAhead(lowest, values []float32, width int) {
	for i := range values {
		v := values[i]
		for _, w := range values[i+1 : min(i+width, len(values))] {
			v = min(v, w)
		}
		lowest[i] = v
	}
}

// seek moves k to the first day at whose start the running sum has reached target: the smallest k with
// sums[k] ≥ target, len(sums) when there is none. From start day to start day it moves little.
func seek(sums []float64, k int, target float64) int {
	target -= 1e-9
	for k < len(sums) && sums[k] < target {
		k++
	}
	for k > 0 && sums[k-1] >= target {
		k--
	}
	return k
}
