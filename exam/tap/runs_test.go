//go:build !race

package tap

import "os"

// runsACell gives a Monte Carlo error of 1.6 % in a root mean square and 0.5 points in a coverage of 95 % where .ci/run sets
// LOOSEBOX_LONG=1. A run at a desk makes fewer, with wider limits; the tables say how many.
var runsACell = cellRuns()

func cellRuns() int {
	if os.Getenv("LOOSEBOX_LONG") != "" {
		return 2000
	}
	return 200
}
