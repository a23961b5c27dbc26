// Package score adds up what was seen into the ordered scores and counts that have been published, for the person who
// writes them down and the veterinarian who reads them. Every result carries its range, its source and how sure that
// source is, and every item that went into it.
//
// A score here is a sum, a band or a count. It names no illness and says nothing of what will become of the horse.
package score
