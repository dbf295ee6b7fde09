"""Long lists made by other machines, with the extra ``cluster``: a crew on dask's scheduler.

Whoever reaches the scheduler can run what they like on it, on its workers and on the machine that
asks them; see "A cluster" in DEVELOPERS.md.
"""

from namebatch.cluster.crew import Cluster, cluster_at

__all__ = ["Cluster", "cluster_at"]
