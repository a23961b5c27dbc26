// Package episode sets the checks of one horse side by side that follow each other
// within hours: after a colic call, a dose or a fever a horse is looked at every half
// hour. It says what changed by more than normal variation, what was given, and when
// the next check is due. Nothing of it is stored: visits and their follow-ups are, and an
// episode is a reading of them.
package episode
