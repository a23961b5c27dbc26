//go:build race

package tap

// runsACell is lower under the race detector, which slows the simulation about tenfold; the tables say how many.
var runsACell = 200
