//! What an editor is told about rule files.
