// Package intake reads tables of exams that were made elsewhere: CSV or JSON
// whose columns are steps, to be judged, and spreadsheets with columns of their
// own, which a mapping file turns into visits for the record.
//
// A table is taken whole or not at all. What is wrong with it is named line by
// line, and a field that was left empty is never filled: it becomes a step not
// done, with the reason "not recorded".
package intake
