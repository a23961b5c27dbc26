// Package intake reads tables of exams that were made elsewhere: tables whose columns are steps, to be judged, and
// spreadsheets with columns of their own, which a map turns into visits for the record.
//
// Look proposes the map of a sheet, with a reason for each column; ReadMap reads a map; Map.Read makes exams by it. A table
// that is judged is taken whole or not at all. Of a spreadsheet each row that is wrong stays apart, with what is wrong. A
// field that was left empty is never filled: it becomes a step not done, with the reason "not recorded".
package intake
