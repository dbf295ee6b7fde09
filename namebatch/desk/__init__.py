"""What lies open on the desk of the page: all of its work, and nothing of HTTP.

Front door: `Desk`. It takes plain values and gives the frozen ones of `model`.
"""

from namebatch.desk.desk import Desk
from namebatch.desk.hub import Hub
from namebatch.desk.recipe import Recipe, plan_recipe

__all__ = ["Desk", "Hub", "Recipe", "plan_recipe"]
