"""What is said: every text a person reads, and how boards, sheets and pictures are composed."""
