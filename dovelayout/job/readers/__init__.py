"""From validated tables to boards, joints, drawers and parts, or one refusal that names the place."""
