// Package round makes a day's round: the horses to see that day, in the order to
// see them, each with the reason for being on it and for its place. Horses come on
// it by what the record says (an open visit, a recheck, a dose that is due) and by
// what people decided (exam.RoundLine).
//
// The order keeps what may be catching away from those who can bear it least: the
// very young first; signs that may be catching, fevers and known infections last.
// It names no disease and clears no horse: the veterinarian and local rules stand
// above it, and a person may put any horse last, or back in its place, in words.
//
// A horse whose visit is at "tell the vet", and not told yet, comes before all, by
// judge.DangerCount.Before: half of its danger signs seen, then animals without a count (mules,
// yearlings, an injury), then fewer signs. A look of an hour that no visit has met brings
// the horse back the same day (plan.unmet). Where fever begins is the judge's.
package round
