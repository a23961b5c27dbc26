package rehearse

import "os"

// long says that every seed and fault is walked, as .ci/run asks for with LOOSEBOX_LONG=1; a run at a desk walks a few.
func long() bool { return os.Getenv("LOOSEBOX_LONG") != "" }

// seeds is how many seeds are walked.
func seeds(all uint64) uint64 {
	if long() {
		return all
	}
	return 1
}
