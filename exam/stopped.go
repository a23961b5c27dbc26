package exam

import "loosebox/exam/notation"

// StopReason says why an injection, a blood draw or an observation was stopped, or not begun:
// one of the keys below, or words of a person's own.
type StopReason string

// The reasons that are offered.
const (
	StopMoved        StopReason = "the horse moved, or it is not safe"
	StopUnsafe       StopReason = "the horse is not safe to handle"
	StopNeedleOut    StopReason = "the needle came out or moved"
	StopNoMoreBlood  StopReason = "the needle came out, and no more blood comes"
	StopSwelling     StopReason = "blood or a swelling at the needle"
	StopVeinSwelling StopReason = "a swelling at the vein"
	StopSite         StopReason = "blood came, or the site is not in order"
	StopVetSaidStop  StopReason = "the veterinarian said stop"
	StopVetSaidWait  StopReason = "the veterinarian said wait or stop"
	StopEquipment    StopReason = "syringe, needle or product is not in order"
	StopTubes        StopReason = "needle or tubes are not in order"
	StopOwnerRefused StopReason = "the owner refused"
	OwnerObserves    StopReason = "the owner observes, and knows what to look for"
	VetObserves      StopReason = "the veterinarian observes"
	CalledAway       StopReason = "called away to another horse"
)

// The reasons after an interruption, of a needle that somebody finds as inserted in the record.
const (
	FoundOut          StopReason = "interrupted: needle out, nothing given"
	FoundUnclear      StopReason = "interrupted: not known whether anything was given"
	FoundDrawOut      StopReason = "interrupted: the needle is out"
	FoundDrawnUnclear StopReason = "interrupted: amount drawn not known"
)

// Disposal says where a needle went: SharpsBox, or words of a person's own.
type Disposal string

// SharpsBox is where a needle goes, uncapped.
const SharpsBox Disposal = "sharps box"

// ReadDisposal reads where a needle went, as one clean line.
func ReadDisposal(text string) Disposal { return disposalWords.Read(notation.CleanLine(text, 0)) }

// ReadStopReason reads a typed reason, as one clean line.
func ReadStopReason(text string) StopReason { return stopWords.Read(notation.CleanLine(text, 0)) }
