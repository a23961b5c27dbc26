// Package compare sets the visits of one horse side by side: visits as columns, findings as rows, the change of the
// newest against the one before in a sign and a number. It says what a change may be worth and what it may not, and
// names no illness.
package compare
