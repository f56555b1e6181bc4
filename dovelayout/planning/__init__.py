"""Planning: layouts that propose themselves, the dry fit, the rehearsal, and the season of a whole job."""
