//! The rule language: what it reads, what that means, and what it says about what it cannot read.

mod clauses;
mod codes;
mod doubts;
mod example;
mod expressions;
mod format;
mod heads;
mod grounded;
mod layout;
mod meaning;
mod one_mistake;
mod said;
mod semantics;
mod shown;
mod faults_of_clauses;
mod faults_of_grades;
mod faults_of_names;
mod faults_of_numbers;
mod faults_of_places;
mod faults_of_tests;
mod faults_of_the_whole;
mod form_of_clauses;
mod form_of_heads;
