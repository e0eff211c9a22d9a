// Package sharedfolder finds, for tests only, the folder of references and
// real weather records that may lie beside the repository. Where there is
// none the test is skipped with a line that says so: a clone alone passes
// every test that it can run.
package sharedfolder
