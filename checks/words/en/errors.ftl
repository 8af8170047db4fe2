## What was refused, and how to put it right.

error-front-page = Front page
error-remove_self = You cannot remove yourself. Let somebody else of the shop do it.
error-job_open = The job is still open. Finish it, and the link is made with it.
