// Package fhir writes a visit as a FHIR R4 (4.0.1) document Bundle in JSON, for
// other programs. It claims no conformance; FHIR is a trademark of HL7.
//
//	Bundle (document)
//	  Composition          the exam, a section for each body system
//	  Patient              the animal, by the patient-animal extension
//	  Encounter            the visit, in the field
//	  Practitioner         everybody who wrote an entry, by name
//	  Observation          one finding; not done as dataAbsentReason
//	  Medication, MedicationAdministration   an injection
//	  Immunization         a vaccination
//	  Procedure, Specimen  a blood draw and its tubes
//	  Provenance           who, when, and the digest of the last entry
//
// LOINC codes stand only where one fits (see codes.go); everything also carries
// the identity of its step in this program's own code system. Units are UCUM.
// SNOMED CT and other licensed code sets are not used.
//
// This material contains content from LOINC (http://loinc.org). LOINC is copyright
// Regenstrief Institute, Inc. and the Logical Observation Identifiers Names and
// Codes (LOINC) Committee and is available at no cost under the license at
// http://loinc.org/license. UCUM is copyright Regenstrief Institute, Inc.,
// http://ucum.org/license.
package fhir
