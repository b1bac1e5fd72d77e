//! Both sides of the argument on the shipped rules: what even, gradual loss says, and what the cases say.
