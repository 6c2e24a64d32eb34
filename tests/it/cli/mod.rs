//! What the commands answer, through the program itself.
