using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace Farberth.Service.Access;

/// <summary>Who has an account, and who did what: one SQLite file beside the readings, or in memory where nothing is kept.</summary>
public sealed class PeopleDb(DbContextOptions<PeopleDb> options) : IdentityDbContext<Account, IdentityRole, string>(options)
{
    /// <summary>What people did, in order.</summary>
    public DbSet<Deed> Deeds => Set<Deed>();

    /// <summary>Which boat lies where, and until when.</summary>
    public DbSet<BoatStay> Stays => Set<BoatStay>();

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.Entity<BoatStay>(BoatStay.Describe);
    }
}
