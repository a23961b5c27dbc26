//go:build !unix || solaris || aix

package main

// programTrials needs a pseudo-terminal and signals.
func programTrials() []trial { return nil }
